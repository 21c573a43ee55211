import type { Api } from './setUp.ts'

const apertures: Readonly<Record<string, number>> = { small: 1600, medium: 1100, large: 800 }

/** The turn of one row at its viewing angle. */
export interface SettingsRow {
  readonly viewAngleDeg: number
  readonly framesPerTurn: number
  readonly overlapFrames: number
}

/** Settings as the studio has them at hand: one for each rig and number of frames, dialled once. */
export class SettingsBook {
  readonly #api: Api
  readonly #known = new Map<string, number>()

  constructor(api: Api) {
    this.#api = api
  }

  async of(rig: string, rows: readonly SettingsRow[]): Promise<number> {
    const key = `${rig} ${rows.map((row) => `${row.viewAngleDeg} ${row.framesPerTurn} ${row.overlapFrames}`).join(', ')}`
    const known = this.#known.get(key)
    if (known !== undefined) return known
    const { settingsId } = await this.#api.settings.add({
      focusMm: null,
      apertureCenti: apertures[rig] ?? 1100,
      apertureHeld: 'held',
      shutterNum: 1,
      shutterDen: 125,
      iso: 100,
      whiteBalanceK: 5500,
      development: 'neutral, white at the brief’s code',
      rows: [...rows],
    })
    this.#known.set(key, settingsId)
    return settingsId
  }
}
