import ICAL from 'ical.js'

/** The events of a calendar as another reader understands them, by their summaries' order in the text. */
export function readBack(text: string) {
  const calendar = new ICAL.Component(ICAL.parse(text))
  return calendar.getAllSubcomponents('vevent').map((component) => {
    const event = new ICAL.Event(component)
    return {
      uid: event.uid,
      sequence: event.sequence,
      status: String(component.getFirstPropertyValue('status')),
      summary: event.summary,
      description: event.description,
      location: event.location,
      start: event.startDate.toJSDate().toISOString(),
      end: event.endDate.toJSDate().toISOString(),
    }
  })
}

export type Entry = ReturnType<typeof readBack>[number]
