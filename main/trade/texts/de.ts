import { aside, inRows, type PaperTexts } from './shape.ts'

const rowCounts = ['zwei', 'drei', 'vier', 'fünf', 'sechs']

/** A number of rows, of which there are two or more; from seven on in figures. */
function rowCount(count: number): string {
  return rowCounts[count - 2] ?? String(count)
}

/** Everything that leaves on paper, in German. */
export const de: PaperTexts = {
  sheet: {
    page: (page, of) => `Seite ${page} von ${of}`,
    // A number for trade within the Union begins with its country's letters (EN 16931-1 BR-CO-09).
    taxNumber: (number) => (/^[A-Z]{2}/u.test(number) ? `USt-IdNr. ${number}` : `Steuernummer ${number}`),
  },
  lines: {
    kinds: { loop: 'Loop-Video', 'frame set': 'Bildsatz', stills: 'Standbilder' },
    sizes: { small: 'kleines Produkt', medium: 'mittelgroßes Produkt', large: 'großes Produkt' },
    finish: (name) => `Bearbeitung: ${name}`,
    rows: (count) => `${count} Reihen`,
    following: 'weiteres Produkt einer Familie',
    day: 'Aufnahmetag',
    halfDay: 'Halber Aufnahmetag',
    finishing: (name) => `Bearbeitung gelieferter Bilder: ${name}`,
    volume: (spins) => `Mengenstaffel für ${spins} Spins`,
    rush: (percent) => `Eilzuschlag ${percent}`,
    discount: (percent) => `Nachlass ${percent}`,
    minimum: 'Auffüllung zum Mindestauftrag',
    ways: { coarser: 'Weniger Bilder je Umdrehung', smoother: 'Mehr Bilder je Umdrehung' },
    deposit: (percent, job) => `Anzahlung von ${percent} auf Auftrag ${job}`,
    ofJob: (job, of, text) =>
      `${job}${aside([
        ['Ihre Bestellung', of.orderNumber],
        ['Ihr Zeichen', of.buyerReference],
        ['Kostenstelle', of.costCentre],
      ])}: ${text}`,
  },
  quote: {
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
      `Jedes Produkt wird in ${rowCount(rows.length)} Reihen gedreht: ${inRows(rows, 'Bilder', 'bei')}. Die Bewegung wirkt ${looks}.`,
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
    accept: 'Annahme',
    howToAccept: (quote, email) =>
      `Hier unterschreiben und diese Seite zurücksenden, oder${email ? ` an ${email}` : ''} schreiben, dass Sie ${quote} annehmen.`,
    signLines: ['Ort und Tag', 'Name', 'Unterschrift'],
  },
  invoice: {
    title: {
      invoice: 'Rechnung',
      deposit: 'Anzahlungsrechnung',
      'credit note': 'Gutschrift (Rechnungskorrektur)',
    },
    draft: 'Entwurf',
    day: 'Datum',
    dueDay: 'Fällig',
    orderNumber: 'Ihre Bestellung',
    reference: 'Ihr Zeichen',
    costCentre: 'Kostenstelle',
    corrects: 'Korrigiert',
    service: 'Leistung',
    deliveries: (numbers) => `Berechnet nach Lieferung: ${numbers.join(', ')}.`,
    yourTaxNumber: 'Ihre USt-IdNr.',
    columns: ['Leistung', 'Menge', 'Preis', 'Steuer', 'Betrag'],
    perBase: (base) => `je ${base}`,
    net: 'Summe ohne Steuer',
    tax: (name, base) => `Steuer ${name} auf ${base}`,
    total: 'Gesamt',
    deposit: (number, day) => `Abzüglich Anzahlung ${number} vom ${day}`,
    depositTax: (name, tax, base) => `Darin Steuer ${name}: ${tax} auf ${base}`,
    rounding: 'Rundung',
    due: 'Zahlbetrag',
    credited: 'Gutgeschrieben',
    creditTerms: 'Wird mit der Rechnung verrechnet oder, wo diese bezahlt ist, erstattet.',
    pay: (day) => `Bitte zahlen Sie bis ${day}.`,
    categories: {
      Z: 'Nullsatz',
      E: 'steuerbefreit',
      AE: 'Steuerschuldnerschaft des Leistungsempfängers',
      G: 'Ausfuhr',
      O: 'nicht steuerbar',
      K: 'innergemeinschaftliche Lieferung',
    },
  },
  payment: {
    payee: 'An',
    iban: 'IBAN',
    bic: 'BIC',
    amount: 'Betrag',
    reference: 'Referenz',
    code: 'Der Code enthält dasselbe für eine Banking-App (EPC069-12). Vergleichen Sie vor dem Zahlen, was die App zeigt.',
  },
  delivery: {
    title: 'Lieferschein',
    day: 'Datum',
    job: 'Auftrag',
    orderNumber: 'Ihre Bestellnummer',
    way: 'Versand',
    spin: 'Spin',
    deliverable: 'Lieferform',
    pixels: 'Pixel',
    files: 'Dateien',
    size: 'Größe',
    allFiles: 'Dateien gesamt',
    allSize: 'Größe gesamt',
    checkSums:
      'Die Dateiliste zu diesem Lieferschein nennt jede Datei mit ihrer Größe in Byte und ihrer SHA-256-Prüfsumme. Bitte prüfen Sie, ob alle angekommen sind.',
    checkNames:
      'Die Dateiliste zu diesem Lieferschein nennt jede Datei. Bitte prüfen Sie, ob alle angekommen sind.',
  },
  rights: {
    heading: 'Nutzungsrechte',
    from: (day) => `ab ${day}`,
    to: (day) => `bis ${day}`,
    withoutEnd: 'unbefristet',
    onPayment: 'geht mit der Bezahlung der Rechnung über',
    allOnPayment: 'Diese Rechte gehen mit der Bezahlung der Rechnung auf Sie über.',
  },
  terms: {
    step: (days, percent) =>
      `${days === 0 ? 'am Tag selbst' : `${days === 1 ? '1 Tag' : `${days} Tage`} oder weniger vor Beginn`} ${percent}`,
    cancelling: (steps) =>
      `Aufnahmezeit, die Sie absagen, wird mit einem Teil des Preises des darin Gebuchten berechnet: ${steps.join(', ')}.`,
    moving: (steps) =>
      `Aufnahmezeit, die Sie verschieben lassen, wird mit einem Teil des Preises des darin Gebuchten berechnet: ${steps.join(', ')}.`,
    idle: (percent) =>
      `Steht gebuchte Aufnahmezeit still, weil Muster fehlen, werden ${percent} des Preises des Gebuchten berechnet.`,
    charged: {
      cancelling: (day, percent) => `Aufnahmezeit vom ${day}, abgesagt: ${percent} ihres Preises`,
      'moving late': (day, percent) => `Aufnahmezeit vom ${day}, verschoben: ${percent} ihres Preises`,
      'idle bench': (day, percent) =>
        `Aufnahmezeit vom ${day}, ohne Muster ungenutzt: ${percent} ihres Preises`,
    },
  },
  extras: {
    title: 'Nachträge zu unserem Auftrag',
    day: 'Datum',
    job: 'Unser Auftrag',
    orderNumber: 'Ihre Bestellung',
    columns: ['Leistung', 'Menge', 'Preis', 'Steuer', 'Betrag'],
    net: 'Summe ohne Steuer',
    tax: (name, base) => `${name} auf ${base}`,
    total: 'Gesamtbetrag mit Steuer',
    states: { proposed: 'Vorgeschlagen', agreed: 'Vereinbart', declined: 'Abgelehnt' },
    decided: (day, by, how) => `${day}${by === null ? '' : `, ${by}`}, ${how}`,
    newDueDay: (day) => `Der neue Liefertag ist der ${day}.`,
    none: 'Zu diesem Auftrag gibt es keine Nachträge.',
    accept: 'Ihre Antwort',
    howToAccept:
      'Kreuzen Sie an, womit Sie einverstanden sind, und senden Sie die Seite zurück. Vorher wird nichts Vorgeschlagenes berechnet.',
    signLines: ['Ort und Datum', 'Name', 'Unterschrift'],
    reshoot: (spin) => `Erneut aufgenommen: ${spin}`,
  },
  order: {
    title: 'Auftragsbestätigung',
    accepted: (quote, day) =>
      `Wir bestätigen Ihren Auftrag: Angebot ${quote}, angenommen am ${day}, mit den seither getroffenen Vereinbarungen.`,
    agreed: 'Was beauftragt ist',
    extra: (number, title) => `Nachtrag ${number}: ${title}`,
    extraAgreed: (day) => `vereinbart am ${day}`,
    check: 'Bitte vergleichen Sie dies mit Ihren Unterlagen und melden Sie Abweichungen umgehend.',
  },
  receipt: {
    title: 'Wareneingangsbeleg',
    day: 'Datum',
    job: 'Auftrag',
    orderNumber: 'Ihre Bestellung',
    columns: ['Produkt', 'Eingang', 'Zustand', 'Platz', 'Danach'],
    value: 'Wert',
    allPieces: 'Erhaltene Produkte',
    allValue: 'Gesamtwert nach Ihrer Angabe',
    states: { in: 'erhalten', wrong: 'nicht das erwartete Produkt', broken: 'beschädigt' },
    fates: { return: 'geht zurück', keep: 'verbleibt bei uns', destroy: 'wird vernichtet' },
    notHere: 'Erwartet und noch nicht eingetroffen',
    sign: 'Empfang',
    signText:
      'Die oben genannten Produkte wurden wie beschrieben übergeben. Später bemerkte Schäden werden unverzüglich gemeldet.',
    signLines: ['Ort und Tag', 'Übergeben von', 'Empfangen von'],
  },
  reminder: {
    levels: [
      {
        title: 'Zahlungserinnerung',
        text: 'Vielleicht ist es Ihrer Aufmerksamkeit entgangen: Für die folgenden Posten haben wir noch keinen Zahlungseingang gefunden. Bitte prüfen Sie dies.',
      },
      {
        title: 'Zweite Zahlungserinnerung',
        text: 'Wir hatten Ihnen zu den folgenden Posten geschrieben und noch immer keinen Zahlungseingang gefunden. Bitte zahlen Sie jetzt, oder sagen Sie uns, was dem entgegensteht.',
      },
      {
        title: 'Letzte Zahlungserinnerung',
        text: 'Trotz unserer Erinnerungen sind die folgenden Posten noch offen. Bitte zahlen Sie binnen sieben Tagen ab dem Datum dieses Schreibens; danach behalten wir uns weitere Schritte vor.',
      },
    ],
    day: 'Datum',
    columns: ['Rechnung', 'Datum', 'Fällig', 'Tage in Verzug', 'Offen'],
    open: 'Offen',
    interest: (invoice) => `Verzugszinsen zu ${invoice}`,
    lumpSum: 'Verzugspauschale',
    total: 'Zu zahlen',
    lateNote:
      'Zinsen und Pauschale werden berechnet, soweit vereinbart oder gesetzlich vorgesehen; weitere gesetzliche Ansprüche bleiben vorbehalten.',
    crossed:
      'Sollte sich Ihre Zahlung mit diesem Schreiben überschnitten haben, betrachten Sie es bitte als gegenstandslos.',
    pay: 'Bitte zahlen Sie an:',
  },
  statement: {
    title: 'Kontoauszug',
    period: 'Zeitraum',
    drawnUp: 'Erstellt',
    currency: 'Währung',
    columns: ['Tag', 'Vorgang', 'Fällig', 'Betrag', 'Saldo'],
    opening: 'Anfangssaldo',
    closing: 'Endsaldo',
    kinds: {
      invoice: 'Rechnung',
      deposit: 'Anzahlungsrechnung',
      'credit note': 'Gutschrift',
      payment: 'Zahlung',
      'payment taken back': 'Zahlung zurückgenommen',
      'paid back': 'An Sie zurückgezahlt',
      'write-off': 'Ausgebucht',
      'write-off taken back': 'Ausbuchung zurückgenommen',
    },
    open: (day) => `Offen am ${day}, nach Tagen seit Fälligkeit`,
    ages: {
      'not due': 'Noch nicht fällig',
      'to 30': '1 bis 30 Tage',
      '31 to 60': '31 bis 60 Tage',
      '61 to 90': '61 bis 90 Tage',
      'over 90': 'Über 90 Tage',
    },
    credit: 'Ihr Guthaben, das keine Rechnung verbraucht hat',
    check:
      'Bitte vergleichen Sie dies mit Ihren Büchern und teilen Sie uns Abweichungen mit. Ein Saldo mit Minus besteht zu Ihren Gunsten.',
  },
}
