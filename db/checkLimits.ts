import type { CheckLimits } from '../main/trade/check/limits.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

export function checkLimits(db: Db): CheckLimits {
  const row = prepared<[], CheckLimits>(
    db,
    `SELECT flicker_mev AS flickerMev, light_step_mev AS lightStepMev, drift_mev AS driftMev,
       centre_um AS centreUm, margin_ppm AS marginPpm FROM check_limits`,
  ).get()
  if (!row) throw new Error('The store holds no limits to check takes by.')
  return row
}

/** Changes from where the check finds fault. Reports that are kept stay as they are until a take is checked again. */
export function changeCheckLimits(writing: Writing, limits: CheckLimits): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = checkLimits(db)
    prepared<unknown[]>(
      db,
      `UPDATE check_limits SET flicker_mev = ?, light_step_mev = ?, drift_mev = ?, centre_um = ?, margin_ppm = ?`,
    ).run(limits.flickerMev, limits.lightStepMev, limits.driftMev, limits.centreUm, limits.marginPpm)
    writeEvent(writing, {
      subject: 'pace',
      subjectId: 1,
      what: 'limits of the check changed',
      detail: { before, after: limits },
    })
  })
}
