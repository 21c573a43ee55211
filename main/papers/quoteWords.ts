import type { Deliverable } from '../../db/briefs.ts'
import type { PaperLanguage } from '../trade/quoteWords.ts'

/** The words of quotes beside their lines, one record per language of the client. */
export interface QuotePaperWords {
  readonly title: (number: string) => string
  readonly draft: string
  readonly day: string
  readonly validUntil: string
  readonly dueDay: string
  readonly job: string
  readonly order: string
  readonly what: string
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
  readonly deliverable: (d: Deliverable, framesPerTurn: number) => string
  readonly spins: (count: number) => string
}

const seconds = (frames: number, d: Deliverable, locale: string) =>
  new Intl.NumberFormat(locale, { maximumFractionDigits: 1 }).format(
    (frames * (d.fpsDen ?? 1)) / (d.fpsNum ?? 1),
  )

const fps = (d: Deliverable, locale: string) =>
  new Intl.NumberFormat(locale, { maximumFractionDigits: 2 }).format((d.fpsNum ?? 0) / (d.fpsDen ?? 1))

const pixels = (d: Deliverable) => `${d.widthPx} × ${d.heightPx} px, ${d.fileType.toUpperCase()}`

export const quotePaperWords: Readonly<Record<PaperLanguage, QuotePaperWords>> = {
  en: {
    title: (number) => `Quote ${number}`,
    draft: 'draft',
    day: 'Date',
    validUntil: 'Valid until',
    dueDay: 'Delivery by',
    job: 'Our job',
    order: 'Your order',
    what: 'What you get',
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
    deliverable: (d, frames) => {
      switch (d.kind) {
        case 'loop':
          return `Loop video: ${pixels(d)}, ${fps(d, 'en-GB')} frames per second, one turn in ${seconds(frames, d, 'en-GB')} s`
        case 'frame set':
          return `Frame set: ${d.frames} frames of one turn, ${pixels(d)}`
        case 'stills':
          return `Stills: ${d.frames}, ${pixels(d)}`
      }
    },
    spins: (count) => (count === 1 ? 'One spin:' : `${count} spins, each with:`),
  },
  de: {
    title: (number) => `Angebot ${number}`,
    draft: 'Entwurf',
    day: 'Datum',
    validUntil: 'Gültig bis',
    dueDay: 'Lieferung bis',
    job: 'Unser Auftrag',
    order: 'Ihre Bestellung',
    what: 'Was Sie bekommen',
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
    deliverable: (d, frames) => {
      switch (d.kind) {
        case 'loop':
          return `Loop-Video: ${pixels(d)}, ${fps(d, 'de-DE')} Bilder je Sekunde, eine Umdrehung in ${seconds(frames, d, 'de-DE')} s`
        case 'frame set':
          return `Bildsatz: ${d.frames} Bilder einer Umdrehung, ${pixels(d)}`
        case 'stills':
          return `Standbilder: ${d.frames}, ${pixels(d)}`
      }
    },
    spins: (count) => (count === 1 ? 'Ein Spin:' : `${count} Spins, je mit:`),
  },
}
