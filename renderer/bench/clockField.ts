/** Minutes since midnight from what a time field holds, '09:05'; null while it is empty. */
export function minuteOf(time: string): number | null {
  const [, hours, minutes] = /^(\d{2}):(\d{2})$/u.exec(time) ?? []
  return hours === undefined || minutes === undefined ? null : Number(hours) * 60 + Number(minutes)
}
