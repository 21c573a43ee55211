import type { DeliverableKind } from '../../db/briefs.ts'
import type { QuoteWay } from '../../db/quotes.ts'
import type { PaperLanguage } from '../trade/quoteWords.ts'
import type { TurnLook } from '../trade/turnLook.ts'

/** The words of quotes beside their lines, one record per language of the client. */
export interface QuotePaperWords {
  readonly title: (number: string) => string
  readonly draft: string
  readonly day: string
  readonly validUntil: string
  readonly dueDay: string
  readonly job: string
  readonly order: string
  readonly totalWithTax: string
  readonly spinCount: (count: number) => string
  readonly what: string
  readonly spins: (count: number) => string
  readonly getColumns: readonly [what: string, pictures: string, size: string, file: string, plays: string]
  readonly kinds: Readonly<Record<DeliverableKind, string>>
  readonly and: string
  readonly pictures: (count: number, rows: number) => string
  readonly wholeTurn: (frames: string, isOne: boolean) => string
  readonly asChosen: string
  readonly plays: (seconds: string, perSecond: string) => string
  readonly turn: (frames: number, look: string, rows: number) => string
  /** Where rows differ: '72 frames at 0°, 36 at 30°' and how they look. */
  readonly turnInRows: (rows: readonly (readonly [frames: number, angle: string])[], looks: string) => string
  readonly looks: Readonly<Record<TurnLook, string>>
  readonly choice: string
  readonly choiceAside: string
  readonly choiceColumns: readonly string[]
  readonly ways: Readonly<Record<QuoteWay, string>>
  readonly frames: (count: string) => string
  readonly price: string
  readonly columns: readonly [what: string, quantity: string, price: string, amount: string]
  readonly net: string
  readonly tax: (name: string, base: string) => string
  readonly total: string
  readonly deposit: (percent: string) => string
  readonly validity: (day: string) => string
  readonly rounds: (count: number) => string
  readonly assumptions: string
  readonly terms: string
  readonly rights: string
  readonly right: (media: string, territory: string, from: string | null, to: string | null) => string
  readonly rightsPass: string
  readonly accept: string
  readonly howToAccept: (quote: string, email: string | null) => string
  readonly signLines: readonly string[]
}

const numbers = {
  en: ['two', 'three', 'four', 'five', 'six'],
  de: ['zwei', 'drei', 'vier', 'fünf', 'sechs'],
} as const

/** A number of rows, of which there are two or more; from seven on in figures. */
function rowCount(count: number, language: PaperLanguage): string {
  return numbers[language][count - 2] ?? String(count)
}

function inRows(
  rows: readonly (readonly [frames: number, angle: string])[],
  first: string,
  at: string,
): string {
  return rows
    .map(([frames, angle], index) => `${frames}${index === 0 ? ` ${first}` : ''} ${at} ${angle}`)
    .join(', ')
}

export const quotePaperWords: Readonly<Record<PaperLanguage, QuotePaperWords>> = {
  en: {
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
      `Each product is turned in ${rowCount(rows.length, 'en')} rows: ${inRows(rows, 'frames', 'at')}. It looks ${looks}.`,
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
    rights: 'Rights of use',
    right: (media, territory, from, to) =>
      [media, territory, from && `from ${from}`, to ? `until ${to}` : 'without end']
        .filter(Boolean)
        .join(', '),
    rightsPass: 'These rights pass to you once the invoice is paid.',
    accept: 'To accept',
    howToAccept: (quote, email) =>
      `Sign here and send this page back, or write${email ? ` to ${email}` : ''} that you accept ${quote}.`,
    signLines: ['Place and day', 'Name', 'Signature'],
  },
  de: {
    title: (number) => `Angebot ${number}`,
    draft: 'Entwurf',
    day: 'Datum',
    validUntil: 'Gültig bis',
    dueDay: 'Lieferung bis',
    job: 'Unser Auftrag',
    order: 'Ihre Bestellung',
    totalWithTax: 'Gesamtbetrag mit Steuer',
    spinCount: (count) => (count === 1 ? '1 Spin' : `${count} Spins`),
    what: 'Was Sie bekommen',
    spins: (count) => (count === 1 ? 'für das eine Produkt' : `für jeden der ${count} Spins`),
    getColumns: ['', 'Bilder', 'Größe', 'Datei', 'Läuft'],
    kinds: { loop: 'Loop-Video', 'frame set': 'Bildsatz', stills: 'Standbilder' },
    and: 'und',
    pictures: (count, rows) => `${count === 1 ? '1 Bild' : `${count} Bilder`}${rows > 1 ? ' je Reihe' : ''}`,
    wholeTurn: (frames, isOne) => `alle ${frames} der ${isOne ? 'Umdrehung' : 'Umdrehungen'}`,
    asChosen: 'alle der gewählten Umdrehung',
    plays: (seconds, perSecond) => `eine Umdrehung in ${seconds}\u00a0s, ${perSecond}\u00a0Bilder/s`,
    turn: (frames, look, rows) =>
      `Jedes Produkt wird in ${frames} Bildern einmal gedreht${rows > 1 ? `, aus ${rows} Höhen` : ''}: Die Bewegung wirkt ${look}.`,
    turnInRows: (rows, looks) =>
      `Jedes Produkt wird in ${rowCount(rows.length, 'de')} Reihen gedreht: ${inRows(rows, 'Bilder', 'bei')}. Die Bewegung wirkt ${looks}.`,
    looks: {
      'very smooth': 'sehr fließend',
      smooth: 'fließend',
      'lightly stepped': 'leicht gestuft',
      stepped: 'gestuft',
      'picture by picture': 'wie Bild für Bild',
    },
    choice: 'Ihre Wahl',
    choiceAside: 'dieselben Produkte, feiner oder gröber gedreht',
    choiceColumns: ['', 'Bilder', 'Wirkt', 'Eine Umdrehung', 'Netto', 'Gesamt'],
    ways: { coarser: 'Weniger Bilder', 'as asked': 'Wie angefragt', smoother: 'Mehr Bilder' },
    frames: (count) => `${count} Bilder je Umdrehung`,
    price: 'Preis',
    columns: ['Leistung', 'Menge', 'Preis', 'Betrag'],
    net: 'Summe netto',
    tax: (name, base) => `${name} auf ${base}`,
    total: 'Gesamtbetrag',
    deposit: (percent) => `Anzahlung ${percent} vor Arbeitsbeginn`,
    validity: (day) => `Dieses Angebot kann bis zum ${day} angenommen werden.`,
    rounds: (count) =>
      count === 0
        ? 'Änderungen nach der Lieferung werden gesondert berechnet.'
        : `${count === 1 ? 'Eine Änderungsrunde ist' : `${count} Änderungsrunden sind`} enthalten; was darüber hinausgeht, wird gesondert vereinbart.`,
    assumptions: 'Wovon dieses Angebot ausgeht',
    terms: 'Bedingungen',
    rights: 'Nutzungsrechte',
    right: (media, territory, from, to) =>
      [media, territory, from && `ab ${from}`, to ? `bis ${to}` : 'unbefristet'].filter(Boolean).join(', '),
    rightsPass: 'Diese Rechte gehen mit der Bezahlung der Rechnung auf Sie über.',
    accept: 'Annahme',
    howToAccept: (quote, email) =>
      `Hier unterschreiben und diese Seite zurücksenden, oder${email ? ` an ${email}` : ''} schreiben, dass Sie ${quote} annehmen.`,
    signLines: ['Ort und Tag', 'Name', 'Unterschrift'],
  },
}
