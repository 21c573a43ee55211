import { aside, inRows, type PaperTexts } from './shape.ts'

const rowCounts = ['two', 'three', 'four', 'five', 'six']

/** A number of rows, of which there are two or more; from seven on in figures. */
function rowCount(count: number): string {
  return rowCounts[count - 2] ?? String(count)
}

/** Everything that leaves on paper, in English. */
export const en: PaperTexts = {
  sheet: {
    page: (page, of) => `Page ${page} of ${of}`,
  },
  lines: {
    kinds: { loop: 'Loop video', 'frame set': 'Frame set', stills: 'Stills' },
    sizes: { small: 'small product', medium: 'medium product', large: 'large product' },
    finish: (name) => `finish: ${name}`,
    rows: (count) => `${count} rows`,
    following: 'further product of a family',
    day: 'Bench day',
    halfDay: 'Half bench day',
    finishing: (name) => `Finishing of delivered pictures: ${name}`,
    volume: (spins) => `Volume break for ${spins} spins`,
    rush: (percent) => `Rush surcharge of ${percent}`,
    discount: (percent) => `Discount of ${percent}`,
    minimum: 'Filled up to the minimum order',
    ways: { coarser: 'Fewer frames a turn', smoother: 'More frames a turn' },
    deposit: (percent, job) => `Deposit of ${percent} on job ${job}`,
    ofJob: (job, of, text) =>
      `${job}${aside([
        ['your order', of.orderNumber],
        ['your reference', of.buyerReference],
        ['cost centre', of.costCentre],
      ])}: ${text}`,
  },
  quote: {
    title: (number) => `Quote ${number}`,
    draft: 'draft',
    day: 'Date',
    validUntil: 'Valid until',
    dueDay: 'Delivery by',
    job: 'Our job',
    order: 'Your order',
    totalWithTax: 'Total with tax',
    spinCount: (count) => (count === 1 ? '1 spin' : `${count} spins`),
    what: 'What you get',
    spins: (count) => (count === 1 ? 'for the one product' : `for each of the ${count} spins`),
    getColumns: ['', 'Pictures', 'Size', 'File', 'Plays'],
    kinds: { loop: 'Loop video', 'frame set': 'Frame set', stills: 'Stills' },
    and: 'and',
    pictures: (count, rows) =>
      `${count === 1 ? '1 picture' : `${count} pictures`}${rows > 1 ? ' of each row' : ''}`,
    wholeTurn: (frames, isOne) => `all ${frames} of the ${isOne ? 'turn' : 'turns'}`,
    asChosen: 'all of the turn you choose',
    plays: (seconds, perSecond) => `one turn in ${seconds}\u00a0s, ${perSecond}\u00a0frames/s`,
    turn: (frames, look, rows) =>
      `Each product is turned once round in ${frames} frames${rows > 1 ? `, from ${rows} heights` : ''}: it looks ${look}.`,
    turnInRows: (rows, looks) =>
      `Each product is turned in ${rowCount(rows.length)} rows: ${inRows(rows, 'frames', 'at')}. It looks ${looks}.`,
    looks: {
      'very smooth': 'very smooth',
      smooth: 'smooth',
      'lightly stepped': 'lightly stepped',
      stepped: 'stepped',
      'picture by picture': 'picture by picture',
    },
    choice: 'Your choice',
    choiceAside: 'the same products, turned more or less finely',
    choiceColumns: ['', 'Frames a turn', 'It looks', 'One turn', 'Before tax', 'Total'],
    ways: { coarser: 'Fewer frames', 'as asked': 'As you asked', smoother: 'More frames' },
    frames: (count) => `${count} frames a turn`,
    price: 'Price',
    columns: ['What', 'Quantity', 'Price', 'Amount'],
    net: 'Total before tax',
    tax: (name, base) => `${name} on ${base}`,
    total: 'Total',
    deposit: (percent) => `Deposit of ${percent} before work begins`,
    validity: (day) => `This quote can be accepted until ${day}.`,
    rounds: (count) =>
      count === 0
        ? 'Changes after delivery are charged as extras.'
        : `${count === 1 ? 'One round' : `${count} rounds`} of changes included; what goes beyond is agreed as an extra.`,
    assumptions: 'What this quote assumes',
    terms: 'Terms',
    accept: 'To accept',
    howToAccept: (quote, email) =>
      `Sign here and send this page back, or write${email ? ` to ${email}` : ''} that you accept ${quote}.`,
    signLines: ['Place and day', 'Name', 'Signature'],
  },
  invoice: {
    title: { invoice: 'Invoice', deposit: 'Deposit invoice', 'credit note': 'Credit note' },
    draft: 'Draft',
    day: 'Date',
    dueDay: 'Due',
    orderNumber: 'Your order',
    reference: 'Your reference',
    costCentre: 'Cost centre',
    corrects: 'Corrects',
    service: 'Service',
    yourTaxNumber: 'Your tax number',
    columns: ['What', 'Quantity', 'Price', 'Tax', 'Amount'],
    perBase: (base) => `per ${base}`,
    net: 'Total before tax',
    tax: (name, base) => `Tax ${name} on ${base}`,
    total: 'Total',
    deposit: (number, day) => `Less deposit ${number} of ${day}`,
    depositTax: (name, tax, base) => `In it tax ${name}: ${tax} on ${base}`,
    rounding: 'Rounding',
    due: 'Amount due',
    credited: 'Amount credited',
    creditTerms: 'It is set against the invoice, or paid back where that is paid.',
    pay: (day) => `Please pay by ${day}.`,
    categories: {
      Z: 'zero rate',
      E: 'exempt',
      AE: 'reverse charge',
      G: 'export',
      O: 'outside the scope of tax',
      K: 'supply within the European Union',
    },
  },
  payment: {
    payee: 'To',
    iban: 'IBAN',
    bic: 'BIC',
    amount: 'Amount',
    reference: 'Reference',
    code: 'The code holds the same for a banking app (EPC069-12). Compare what the app shows before you pay.',
  },
  delivery: {
    title: 'Delivery note',
    day: 'Day',
    job: 'Job',
    orderNumber: 'Your order number',
    way: 'Sent by',
    spin: 'Spin',
    deliverable: 'Deliverable',
    pixels: 'Pixels',
    files: 'Files',
    size: 'Size',
    allFiles: 'Files in all',
    allSize: 'Size in all',
    checkSums:
      'The file list that comes with this note names every file with its size in bytes and its SHA-256. Please check that all of them have arrived.',
    checkNames:
      'The file list that comes with this note names every file. Please check that all of them have arrived.',
  },
  rights: {
    heading: 'Rights of use',
    from: (day) => `from ${day}`,
    to: (day) => `until ${day}`,
    withoutEnd: 'without end',
    onPayment: 'passing to you once the invoice is paid',
    allOnPayment: 'These rights pass to you once the invoice is paid.',
  },
  terms: {
    step: (days, percent) =>
      `${days === 0 ? 'on the day itself' : `${days === 1 ? '1 day' : `${days} days`} or fewer before it begins`} ${percent}`,
    cancelling: (steps) =>
      `Bench time that you cancel is charged with a share of the price of what is booked in it: ${steps.join(', ')}.`,
    moving: (steps) =>
      `Bench time that you have moved is charged with a share of the price of what is booked in it: ${steps.join(', ')}.`,
    idle: (percent) =>
      `Where booked bench time stands idle because samples are missing, ${percent} of the price of what was booked is charged.`,
    charged: {
      cancelling: (day, percent) => `Bench time of ${day}, cancelled: ${percent} of its price`,
      'moving late': (day, percent) => `Bench time of ${day}, moved: ${percent} of its price`,
      'idle bench': (day, percent) => `Bench time of ${day}, idle without samples: ${percent} of its price`,
    },
  },
  extras: {
    title: 'Extras to our order',
    day: 'Date',
    job: 'Our job',
    orderNumber: 'Your order',
    columns: ['What', 'Quantity', 'Price', 'Tax', 'Amount'],
    net: 'Total before tax',
    tax: (name, base) => `${name} on ${base}`,
    total: 'Total with tax',
    states: { proposed: 'Proposed', agreed: 'Agreed', declined: 'Declined' },
    decided: (day, by, how) => `${day}${by === null ? '' : `, ${by}`}, ${how}`,
    newDueDay: (day) => `The new day of delivery is ${day}.`,
    none: 'There are no extras to this order.',
    accept: 'Your answer',
    howToAccept:
      'Tick what you agree to and send this page back. Nothing of what is proposed is billed before.',
    signLines: ['Place and day', 'Name', 'Signature'],
    reshoot: (spin) => `Turned again: ${spin}`,
  },
}
