import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ticketText } from '../../main/trade/ticketCode.ts'
import { hearKey, longestGapMs, quietWedge, shortestScan, type Wedge } from '../../renderer/scan/wedge.ts'

interface Key {
  readonly key: string
  readonly gapMs: number
}

/** What is heard of keys, each so long after the one before. */
function hear(keys: readonly Key[], from: Wedge = quietWedge, startMs = 0) {
  let wedge = from
  let atMs = startMs
  const scanned: string[] = []
  const ours: boolean[] = []
  for (const { key, gapMs } of keys) {
    atMs += gapMs
    const heard = hearKey(wedge, key, atMs)
    wedge = heard.wedge
    ours.push(heard.isOurs)
    if (heard.scanned !== undefined) scanned.push(heard.scanned)
  }
  return { scanned, ours, wedge, atMs }
}

const letter = fc.string({ unit: 'grapheme-ascii', minLength: 1, maxLength: 1 })
const anyKey = fc.oneof(
  { weight: 8, arbitrary: letter },
  { weight: 2, arbitrary: fc.constantFrom('Enter', 'Shift', 'Backspace', 'Tab', ' ') },
)
const fast = fc.integer({ min: 0, max: longestGapMs })
const rest = fc.integer({ min: longestGapMs + 1, max: 2000 })

/** A person's keys: however quick the bursts, of any eight keys in a row at least one comes after a rest. */
const hands = fc
  .array(
    fc.tuple(
      fc.record({ key: anyKey, gapMs: rest }),
      fc.array(fc.record({ key: anyKey, gapMs: fast }), { maxLength: shortestScan - 1 }),
    ),
    { maxLength: 12 },
  )
  .map((bursts) => bursts.flatMap(([first, more]) => [first, ...more]))

const tickets = fc
  .record({
    studioKey: fc.string({ unit: fc.constantFrom(...'0123456789ABCDEF'), minLength: 4, maxLength: 4 }),
    shootId: fc.integer({ min: 1, max: 999_999 }),
    product: fc.option(fc.integer({ min: 1, max: 20 })),
  })
  .map(ticketText)

/** What a scanner sends: each capital with its Shift, all without a rest, then Enter. */
function scannerKeys(code: string, gapMs: number): Key[] {
  return [...code]
    .flatMap((key) =>
      /[A-Z]/u.test(key)
        ? [
            { key: 'Shift', gapMs: 0 },
            { key, gapMs },
          ]
        : [{ key, gapMs }],
    )
    .concat({ key: 'Enter', gapMs })
}

describe('the hand scanner', () => {
  it('is never heard in what a person types, however quick', () => {
    fc.assert(
      fc.property(hands, (keys) => {
        expect(hear(keys).scanned).toEqual([])
      }),
      { numRuns: 500 },
    )
  })

  it('is heard whole, whatever was typed before it', () => {
    fc.assert(
      fc.property(hands, tickets, fast, rest, (before, code, gapMs, restMs) => {
        const { wedge, atMs } = hear(before)
        const [first, ...others] = scannerKeys(code, gapMs)
        const { scanned } = hear(
          [
            { key: first?.key ?? '', gapMs: restMs },
            ...others.map((key, k) => (k === 0 && first?.key === 'Shift' ? { ...key, gapMs: restMs } : key)),
          ],
          wedge,
          atMs,
        )
        expect(scanned).toEqual([code])
      }),
    )
  })

  it('keeps the keys of a ticket from doing what they do by themselves, all but its first letter', () => {
    const { ours } = hear(
      [...'TURNSHEET.1A2F.77'].map((key) => ({ key, gapMs: 5 })).concat({ key: 'Enter', gapMs: 5 }),
    )
    expect(ours).toEqual([false, ...Array.from({ length: 17 }, () => true)])
  })

  it('leaves the bench its keys: a person’s, and those of a remote that chatters', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({ key: fc.constantFrom(' ', 'p', 'f', 'b', 'e', 'PageDown'), gapMs: fc.nat(200) }),
        ),
        (keys) => {
          expect(hear(keys).ours).not.toContain(true)
        },
      ),
    )
  })

  it('hears a foreign code too, so that it can be refused by a sentence', () => {
    expect(hear(scannerKeys('4006381333931', 8)).scanned).toEqual(['4006381333931'])
    expect(hear(scannerKeys('1234567', 8)).scanned).toEqual([])
  })
})
