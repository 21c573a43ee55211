import { um10FromMm, um10PerMm } from './length.ts'
import { Refusal } from './refusal.ts'

type Plain = string | number | boolean | null | undefined

/** Lengths kept in tenths of a micrometre, as a tape is read; every other length is kept in micrometres. */
type Taped = 'rimMm' | 'divisionMm'

type ShownKey<K> = K extends `${infer S}Um10`
  ? `${S}Mm`
  : K extends `${infer S}Um`
    ? `${S}Mm`
    : K extends `${infer S}Mdeg`
      ? `${S}Deg`
      : K

type KeptKey<K> = K extends Taped
  ? K extends `${infer S}Mm`
    ? `${S}Um10`
    : never
  : K extends `${infer S}Mm`
    ? `${S}Um`
    : K extends `${infer S}Deg`
      ? `${S}Mdeg`
      : K

/** A record with its lengths in mm and its angles in degrees, as people and the API speak of them. */
export type Shown<T> = T extends Plain
  ? T
  : T extends readonly (infer E)[]
    ? readonly Shown<E>[]
    : { readonly [K in keyof T as ShownKey<K>]: Shown<T[K]> }

/** The same record as the store keeps it: whole micrometres (tenths for rim and division) and thousandths of a degree. */
export type Kept<T> = T extends Plain
  ? T
  : T extends readonly (infer E)[]
    ? readonly Kept<E>[]
    : { readonly [K in keyof T as KeptKey<K>]: Kept<T[K]> }

/** Turns every `…Um10`, `…Um` and `…Mdeg` of a record, however deep, into `…Mm` and `…Deg`. */
export function shown<T>(kept: T): Shown<T> {
  return walk(kept, (key, value) => {
    const [, stem = '', unit] = /^(.+?)(Um10|Um|Mdeg)$/u.exec(key) ?? []
    if (unit === undefined) return [key, value]
    const per = unit === 'Um10' ? um10PerMm : 1000
    return [`${stem}${unit === 'Mdeg' ? 'Deg' : 'Mm'}`, typeof value === 'number' ? value / per : value]
  }) as Shown<T>
}

/** The way back, exact. Refuses a length or an angle finer than what is kept. */
export function kept<T>(shownRecord: T): Kept<T> {
  return walk(shownRecord, (key, value) => {
    const [, stem = '', unit] = /^(.+?)(Mm|Deg)$/u.exec(key) ?? []
    if (unit === undefined) return [key, value]
    const isTaped = key === 'rimMm' || key === 'divisionMm'
    const whole = typeof value === 'number' ? wholeUnits(value, isTaped, key, unit) : value
    return [`${stem}${unit === 'Deg' ? 'Mdeg' : isTaped ? 'Um10' : 'Um'}`, whole]
  }) as Kept<T>
}

function wholeUnits(value: number, isTaped: boolean, field: string, unit: string): number {
  const tenths = um10FromMm(value, 'This value')
  if (isTaped) return tenths
  if (tenths % 10 !== 0) {
    throw new Refusal(
      'too-many-places',
      `${value} ${unit === 'Deg' ? 'degrees' : 'mm'} is finer than a thousandth. Round it first.`,
      { field },
    )
  }
  return tenths / 10
}

function walk(value: unknown, one: (key: string, value: unknown) => [string, unknown]): unknown {
  if (Array.isArray(value)) return value.map((item) => walk(item, one))
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value).map(([key, inner]) => {
      const [name, plain] = one(key, inner)
      return [name, walk(plain, one)]
    }),
  )
}
