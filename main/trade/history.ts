/** One fact of a happening as it is kept: text, a number, a list of names. */
type Detail = Readonly<Record<string, unknown>>

const fieldWords: Readonly<Record<string, string>> = {
  contactId: 'contact',
  title: 'title',
  orderNumber: 'order number',
  buyerReference: 'buyer’s reference',
  costCentre: 'cost centre',
  enquiredDay: 'day of the enquiry',
  callBackDay: 'day to call back',
  dueDay: 'due day',
  promiseWorkingDays: 'promise in working days',
  returnByDay: 'day the samples are due back',
  roundsIncluded: 'rounds included',
  note: 'note',
}

const priorityWords: Readonly<Record<string, string>> = {
  high: 'ahead of others',
  normal: 'as it comes',
  low: 'last',
}

/**
 * A happening of the event log as a sentence for a job's history: 'Samples arrived: KN-01, KN-02, at shelf B2.'
 * Facts it does not know how to say are left out; they stay in the log.
 */
export function historySentence(what: string, detail: Detail): string {
  const parts = [
    subjectPart(detail),
    priorityPart(detail.priority),
    textPart('cause: ', detail.cause),
    textPart('until ', dayWords(detail.until)),
    textPart('at ', detail.place),
    textPart('by ', detail.carrier),
    textPart('condition: ', detail.condition),
    changesPart(detail.changes),
    quotedPart(detail.reason ?? detail.words ?? detail.why),
  ].filter((part) => part !== '')
  const said = what.charAt(0).toUpperCase() + what.slice(1)
  return parts.length === 0 ? `${said}.` : `${said}: ${parts.join(', ')}.`
}

const namesShown = 3

function subjectPart(detail: Detail): string {
  const names = Array.isArray(detail.names) ? detail.names.filter((name) => typeof name === 'string') : []
  if (names.length > namesShown) {
    return `${names.slice(0, namesShown).join(', ')} and ${names.length - namesShown} more`
  }
  if (names.length > 0) return names.join(', ')
  const number = textPart('', detail.number)
  const title = textPart('', detail.title ?? detail.name)
  const spins = detail.spins
  const count = typeof spins === 'number' && spins > 0 ? `${spins} ${spins === 1 ? 'spin' : 'spins'}` : ''
  return [number, title, count].filter((part) => part !== '').join(', ')
}

function priorityPart(priority: unknown): string {
  return typeof priority === 'string' ? (priorityWords[priority] ?? priority) : ''
}

function textPart(before: string, value: unknown): string {
  if (typeof value === 'number') return `${before}${value}`
  return typeof value === 'string' && value !== '' ? `${before}${value}` : ''
}

const calendarDay = /^\d{4}-\d{2}-\d{2}$/
const dayFormat = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'long',
  year: 'numeric',
  timeZone: 'UTC',
})

/** A calendar day as it is said, '5 December 2026'; anything else as it is. */
function dayWords(value: unknown): unknown {
  if (typeof value !== 'string' || !calendarDay.test(value)) return value
  return dayFormat.format(new Date(`${value}T00:00:00Z`))
}

function quotedPart(value: unknown): string {
  return typeof value === 'string' && value !== '' ? `“${value}”` : ''
}

function changesPart(changes: unknown): string {
  if (typeof changes !== 'object' || changes === null) return ''
  return Object.entries(changes as Record<string, { from: unknown; to: unknown }>)
    .map(([field, { from, to }]) => {
      const word = fieldWords[field] ?? field
      // Ids and notes say nothing to a reader; that they changed does.
      if (field === 'contactId' || field === 'note') return `${word} changed`
      const [before, after] = [String(dayWords(from)), String(dayWords(to))]
      if (to === null) return `${word} emptied, was ${before}`
      return from === null ? `${word} ${after}` : `${word} ${after}, was ${before}`
    })
    .join('; ')
}
