import { Refusal } from '../refusal.ts'
import { type FrameRate, frameRate } from './frameRate.ts'

/**
 * The timecode label of a frame, counted from 0: '00:00:08;04' (SMPTE ST 12-1). Drop-frame labels carry a
 * semicolon before the frames and leave out the first labels of each minute except every tenth, so that the
 * clock keeps to the true time. Refuses what is no frame of a day.
 * @param rateName  one of `frameRateNames`
 */
export function timecode(frame: number, rateName: string): string {
  const rate = frameRate(rateName)
  if (!Number.isSafeInteger(frame) || frame < 0 || frame >= framesPerDay(rate)) {
    throw new Refusal(
      'outside-day',
      `Frame ${frame} has no timecode at ${rateName}: a day holds frames 0 to ${framesPerDay(rate) - 1}.`,
    )
  }
  const label = frame + droppedBefore(frame, rate)
  const seconds = Math.floor(label / rate.nominal)
  const parts = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60].map(twoDigits)
  return `${parts.join(':')}${rate.dropped > 0 ? ';' : ':'}${twoDigits(label % rate.nominal)}`
}

/**
 * The frame, counted from 0, that a timecode label names. Refuses labels the rate does not have: dropped
 * ones, frames or minutes past their end, 24 hours and more, and the wrong mark before the frames.
 */
export function frameOfTimecode(label: string, rateName: string): number {
  const rate = frameRate(rateName)
  const match = /^(\d\d):(\d\d):(\d\d)([:;])(\d\d)$/u.exec(label.trim())
  const mark = rate.dropped > 0 ? ';' : ':'
  if (!match || match[4] !== mark) {
    throw refused(label, rateName, `it is written 00:00:00${mark}00 at this rate`)
  }
  const [hours = 0, minutes = 0, seconds = 0, frames = 0] = [match[1], match[2], match[3], match[5]].map(
    Number,
  )
  if (hours > 23 || minutes > 59 || seconds > 59) throw refused(label, rateName, 'a day ends before 24:00:00')
  if (frames >= rate.nominal)
    throw refused(label, rateName, `a second holds frames 00 to ${rate.nominal - 1}`)
  if (seconds === 0 && frames < rate.dropped && minutes % 10 !== 0) {
    throw refused(
      label,
      rateName,
      `drop-frame leaves this label out; the minute begins at ${twoDigits(rate.dropped)}`,
    )
  }
  const totalMinutes = hours * 60 + minutes
  const dropped = rate.dropped * (totalMinutes - Math.floor(totalMinutes / 10))
  return (totalMinutes * 60 + seconds) * rate.nominal + frames - dropped
}

/** Labels left out before the frame: nine minutes in ten lose `dropped` each. */
function droppedBefore(frame: number, rate: FrameRate): number {
  if (rate.dropped === 0) return 0
  const perMinute = 60 * rate.nominal - rate.dropped
  const perTenMinutes = 10 * perMinute + rate.dropped
  const tens = Math.floor(frame / perTenMinutes)
  const rest = frame % perTenMinutes
  // The first of ten minutes keeps all its labels, so it is longer by `dropped`.
  const minutes = rest < rate.dropped ? 0 : Math.floor((rest - rate.dropped) / perMinute)
  return rate.dropped * (9 * tens + minutes)
}

function framesPerDay(rate: FrameRate): number {
  return 144 * (600 * rate.nominal - 9 * rate.dropped)
}

function twoDigits(value: number): string {
  return String(value).padStart(2, '0')
}

function refused(label: string, rateName: string, reason: string): Refusal {
  return new Refusal('bad-timecode', `'${label}' is no timecode at ${rateName}: ${reason}.`, {
    field: 'timecode',
  })
}
