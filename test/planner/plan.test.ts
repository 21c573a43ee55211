import { describe, expect, it } from 'vitest'
import { sweptOutline } from '../../main/trade/optics/fill.ts'
import type { PlannerBasis } from '../../renderer/planner/costView.ts'
import { workOutPlan } from '../../renderer/planner/plan.ts'
import { plannerBasis, startingTyped } from '../../renderer/planner/prefill.ts'
import { quoteAddress } from '../../renderer/planner/quoteAddress.ts'
import { projected, seenFaces, steppedSolid } from '../../renderer/planner/solid.ts'
import { addressOfTyped, plainTyped, typedOfAddress } from '../../renderer/planner/typed.ts'
import { aClient } from '../builders.ts'
import { aStudio } from '../studio.ts'

async function alone(): Promise<PlannerBasis> {
  const { api, db } = aStudio()
  db.exec('UPDATE studio SET bench_hour_minor = 6000, desk_hour_minor = 4500')
  return plannerBasis(await api.planner.start({ jobId: null }))
}

describe('the whole plan', () => {
  it('is worked out from the plain fields without a refusal', async () => {
    const { plan, refusals, standing } = workOutPlan(plainTyped, await alone())
    expect(refusals).toEqual({})
    expect(standing.size).toBe(0)
    expect(plan.cost?.figures.framesShot).toBe(247)
  })

  it('keeps a wrong part as it was and works the others out', async () => {
    const studio = await alone()
    const before = workOutPlan({ ...plainTyped, rim: '1200' }, studio).plan
    const after = workOutPlan({ ...plainTyped, rim: '12x', swept: '100' }, studio, before)
    expect(after.plan.turn).toBe(before.turn)
    expect(after.plan.picture.sweptMm).toBe(100)
    expect(Object.keys(after.refusals)).toEqual(['rim'])
    expect([...after.standing]).toEqual(['turn'])
  })

  it('stands on the plain figures where an address is wrong from the start', async () => {
    const { plan, refusals } = workOutPlan({ ...plainTyped, rim: '', focal: 'long', step: '' }, await alone())
    expect(plan.turn.frames).toBe(244)
    expect(Object.keys(refusals).sort()).toEqual(['focal', 'rim', 'step'])
  })

  it('prices so many spins by the studio’s hours, and the third of a turn by its own', async () => {
    const studio = await alone()
    const { plan } = workOutPlan({ ...plainTyped, spins: '3', stepSeconds: '6' }, studio)
    expect(plan.cost?.spins).toBe(3)
    expect(plan.cost?.stepMs).toBe(6000)
    // (81 − 3) frames × 3 spins × 6 s = 1404 s, at 60.00 an hour: 23.40.
    expect(plan.cost?.thirdMs).toBe(1_404_000)
    expect(plan.cost?.thirdMinor).toBe(2340)
    expect(plan.cost?.figures.netMinor).toBeGreaterThanOrEqual(plan.cost?.figures.cost?.p80Minor ?? Infinity)
  })

  it('takes the step of the chosen rig where it was turned on, and a typed one before it', async () => {
    const studio = await alone()
    const rig = { rigId: 5, stepFactor: 1.5, from: { takes: 12, lastDay: '2026-02-20', rigName: 'Table' } }
    const known = { ...studio, rigSteps: [rig] }
    const { stepMs } = studio.basis.pace
    const chosen = workOutPlan({ ...plainTyped, rig: '5' }, known).plan.cost
    expect(chosen?.stepMs).toBe(Math.round(stepMs * 1.5))
    const plain = workOutPlan(plainTyped, known).plan.cost
    expect(chosen?.figures.bench.medianMs).toBeGreaterThan(plain?.figures.bench.medianMs ?? 0)
    const typed = (values: object) =>
      workOutPlan({ ...plainTyped, stepSeconds: '7', ...values }, known).plan.cost
    expect(typed({ rig: '5' })?.figures.bench).toEqual(typed({})?.figures.bench)
  })

  it('counts the frames of all spins on cards and copies by the slower of card and reader', async () => {
    const { plan } = workOutPlan(
      {
        ...plainTyped,
        spins: '2',
        bits: '14',
        compression: '100',
        cardGb: '64',
        cardSpeed: '90',
        readerSpeed: '45',
        stepSeconds: '6',
      },
      await alone(),
    )
    // 8256 × 5504 × 14 ÷ 8 = 79,521,792 bytes; 804 to a card of 64·10⁹; 494 × that at 45·10⁶ a second.
    expect(plan.cards.frameBytes).toBe(79_521_792)
    expect(plan.cards.space.framesPerCard).toBe(804)
    expect(plan.cards.copyMs).toBe(Math.ceil((494 * 79_521_792) / 45_000))
    expect(plan.cards.slower).toBe('reader')
    // 79.5 MB each 6 s are 13.3 MB/s: over the 10 of C10, U1 and V10, under the 30 of U3 and V30 (SD Association).
    expect(plan.cards.marks).toEqual(['U3', 'V30', 'V60', 'V90'])
  })

  it('plays a turn at every rate and repeats it for the wanted clip', async () => {
    const { plan } = workOutPlan({ ...plainTyped, clip: '30' }, await alone())
    const at25 = plan.loop.rates.find(({ name }) => name === '25')
    // 244 ÷ 25 = 9.76 s, 9 s and 19 frames; four turns are 39.04 s (SMPTE ST 12-1 counts 25 frames to the second).
    expect(at25?.seconds).toBeCloseTo(9.76, 9)
    expect(at25?.timecode).toBe('00:00:09:19')
    expect(at25?.repeats.repeats).toBe(4)
    expect(plan.loop.rates).toHaveLength(10)
  })

  it('takes clip and trim as a timecode of the delivered rate too', async () => {
    const studio = await alone()
    const of = (typed: object) => workOutPlan({ ...plainTyped, ...typed }, studio)
    // SMPTE ST 12-1: at 25 frames a second 00:00:30:00 is frame 750, and three turns of 244 are 732: a fourth is needed.
    const at25 = (typed: object) => of(typed).plan.loop.rates.find(({ name }) => name === '25')?.repeats
    expect(at25({ clip: '00:00:30:00' })).toEqual(at25({ clip: '30' }))
    expect(at25({ clip: '00:00:29:07' })?.framesOver).toBe(0)
    expect(at25({ clip: '00:00:29:08' })?.framesOver).toBe(243)
    // 00:01:00;02 is the 1,801st frame of 29.97 drop-frame, number 1800 from 0.
    const drop = of({ rate: '30000/1001 drop', stepIn: 'frames', step: '200', clip: '00:01:00;02' })
    const { repeats } = drop.plan.loop.rates.find(({ name }) => name === '30000/1001 drop') ?? {}
    expect([repeats?.repeats, repeats?.framesOver]).toEqual([9, 0])
    // Frame 27 from 0 is the 28th; a whole turn of 244 follows it.
    const trimmed = of({ overlap: '82', start: '00:00:01:02' }).plan.loop
    expect(trimmed.runs).toEqual([{ first: 28, last: 271 }])
    // The frames of a product that is turned anticlockwise are seen so as they were shot; backwards is asked for.
    const anticlockwise = of({ overlap: '82', start: '00:00:01:02', direction: 'anticlockwise' }).plan.loop
    expect(anticlockwise).toEqual(trimmed)
    const backwards = of({ overlap: '82', start: '00:00:01:02', played: 'backwards' }).plan.loop
    expect(backwards).toMatchObject({ runs: [{ first: 271, last: 28 }], isReversed: true })
    for (const [key, text, rate] of [
      ['clip', '00:00:30;00', '25'],
      ['clip', '00:01:00;00', '30000/1001 drop'],
      ['start', '00:00:00:25', '25'],
      ['start', '1:2', '25'],
    ] as const) {
      const { refusals } = of({ overlap: '82', rate, [key]: text })
      expect(refusals[key], text).toContain('is no timecode')
      expect(Object.keys(refusals)).toEqual([key])
    }
  })

  it.each([
    ['start', '247'],
    ['clip', '0'],
    ['bits', '0'],
    ['compression', '0'],
    ['cardGb', '0.01'],
    ['spins', '0'],
    ['stepSeconds', 'quick'],
    ['nth', '300'],
    ['paperThick', '-1'],
    ['tape', 'thin'],
    ['measured', '150'],
    ['markLoop', '300'],
    ['markLoop', 'all'],
    ['fNumber', 'NaN'],
    ['iso', '-100'],
    ['row', '0'],
  ] as const)('refuses %s of %s at its field and keeps the rest', async (key, text) => {
    const { refusals, plan } = workOutPlan({ ...plainTyped, [key]: text }, await alone())
    expect(refusals[key]).toMatch(/Enter|Use|Print at 100 %/)
    expect(Object.keys(refusals)).toEqual([key])
    expect(plan.turn.frames).toBe(244)
  })

  it('sees every row from its own angle', async () => {
    const typed = { ...plainTyped, rows: '3', angle: '5', angle2: '25', angle3: '35', row: '3' }
    const { plan, refusals } = workOutPlan(typed, await alone())
    expect(refusals).toEqual({})
    expect(plan.picture.rows.map(({ viewAngleDeg }) => viewAngleDeg)).toEqual([5, 25, 35])
    expect(plan.picture.row).toBe(3)
    expect(plan.picture.outline).toEqual(
      sweptOutline({ sweptMm: 200, heightMm: 240, distanceMm: 1000, viewAngleDeg: 35 }),
    )
    expect(plan.sharp.holdsFromFNumbers).toHaveLength(3)
    expect(plan.sharp.holdsFromFNumbers[2]).toBe(plan.sharp.sweep.holdsFromFNumber)
    // Untyped, each stands 15° over the one before, or less where many are to come (common practice).
    expect(workOutPlan({ ...typed, angle3: '' }, await alone()).plan.angles).toEqual([5000, 25_000, 40_000])
    const many = workOutPlan({ ...plainTyped, rows: '20' }, await alone())
    expect(many.refusals).toEqual({})
    expect(new Set(many.plan.angles).size).toBe(20)
    expect(Math.max(...many.plan.angles)).toBeLessThanOrEqual(90_000)
  })

  it.each([
    ['an angle in words', { angle2: 'steep' }, 'angle2', 'not a number'],
    ['NaN', { angle3: 'NaN' }, 'angle3', 'not a number'],
    ['a view from below the floor', { angle: '95' }, 'angle', 'from -90 to 90'],
    ['the angle of another row', { angle3: '5' }, 'angle3', 'Row 3 looks from the same angle as row 1'],
    ['one frame in a row', { frames2: '1' }, 'frames2', 'from 2 to 1440'],
    ['half a frame in a row', { frames3: '36.5' }, 'frames3', 'can be kept'],
    ['frames in words', { frames2: 'many' }, 'frames2', 'not a number'],
    ['frames finer than the tape', { frames3: '1300' }, 'frames3', 'finer than the tape'],
    ['an overlap below nothing', { overlap2: '-1' }, 'overlap2', 'from 0 to 1440'],
  ] as const)('refuses %s at the field of its row, shown or not', async (_what, typed, field, words) => {
    for (const row of ['1', '2', '3']) {
      const { refusals } = workOutPlan(
        { ...plainTyped, rows: '3', parted: 'yes', row, ...typed },
        await alone(),
      )
      expect(refusals[field]).toContain(words)
      expect(Object.keys(refusals)).toEqual([field])
    }
  })

  it('plans rows with their own frames: all of them cost, the one shown is drawn', async () => {
    const studio = await alone()
    const typed = {
      ...plainTyped,
      rows: '2',
      parted: 'yes',
      overlap: '82',
      frames2: '122',
      overlap2: '41',
      stepSeconds: '6',
    }
    const { plan, refusals } = workOutPlan({ ...typed, row: '2' }, studio)
    expect(refusals).toEqual({})
    // 244 + 82 + 122 + 41 = 489.
    expect(plan.turn.framesToShoot).toBe(489)
    expect(plan.cost?.figures.framesShot).toBe(489)
    expect(plan.cards.frames).toBe(489)
    // The shown row: 1220 ÷ 122 = 10 mm, 122 ÷ 25 = 4.88 s, a third of 122 is 40.
    expect(plan.turn).toMatchObject({ frames: 122, overlap: 41, thirdOfTurn: 40, framesKey: 'frames2' })
    expect(plan.turn.drawn.readings).toHaveLength(122)
    expect(plan.turn.forms.stepUm10).toBe(100_000)
    expect(plan.loop.rates.find(({ name }) => name === '25')?.seconds).toBeCloseTo(4.88, 9)
    expect(plan.smooth.choices[0]?.frames).toBe(122)
    const first = workOutPlan({ ...typed, row: '1' }, studio).plan
    expect(first.turn).toMatchObject({ frames: 244, overlap: 82, framesKey: 'step' })
    expect(first.cost?.figures).toEqual(plan.cost?.figures)
  })

  it('takes what a row lacks from the first, and nothing of its own until the rows are parted', async () => {
    const studio = await alone()
    const typed = { ...plainTyped, rows: '2', frames2: '122', overlap2: '' }
    expect(workOutPlan(typed, studio).plan.turn.rows).toEqual([
      { frames: 244, overlap: 3 },
      { frames: 244, overlap: 3 },
    ])
    expect(workOutPlan({ ...typed, parted: 'yes' }, studio).plan.turn.rows).toEqual([
      { frames: 244, overlap: 3 },
      { frames: 122, overlap: 3 },
    ])
    // Alike rows that are parted come to what one number for both comes to.
    const alike = workOutPlan({ ...typed, parted: 'yes', frames2: '244', overlap2: '3' }, studio).plan
    expect(alike.cost?.figures).toEqual(workOutPlan(typed, studio).plan.cost?.figures)
  })

  it('marks a coarser loop on the strip where one is asked for', async () => {
    const studio = await alone()
    expect(workOutPlan(plainTyped, studio).plan.prints.loopFrames).toBeNull()
    expect(workOutPlan({ ...plainTyped, markLoop: '122' }, studio).plan.prints.loopFrames).toBe(122)
  })
})

describe('the address', () => {
  it('names only what differs, and gives back what was typed, wrong or not', () => {
    const typed = { ...plainTyped, rim: 'twelve', step: '6', upright: 'yes', set: '' }
    const address = addressOfTyped(typed, plainTyped, '7')
    expect(address.get('job')).toBe('7')
    expect([...address.keys()]).toEqual(['job', 'rim', 'step', 'set', 'upright'])
    expect(typedOfAddress(new URLSearchParams(address.toString()), plainTyped)).toEqual(typed)
  })

  it('leads to the quote of the job with the planned turn', () => {
    const rows = [
      { frames: 244, overlap: 82 },
      { frames: 122, overlap: 41 },
    ]
    expect(quoteAddress(7, { rows, rimUm10: 12_205_000 }, [5000, 30_500])).toBe(
      '/jobs/7/quote?row=5_244_82&row=30.5_122_41&rim=1220.5',
    )
  })
})

describe('a plan for a job', () => {
  it('starts from its brief and its largest product', async () => {
    const { api } = aStudio()
    const { clientId } = await api.clients.add(aClient())
    const product = (code: string, widthMm: number) => ({
      familyId: null,
      code,
      name: 'Lamp',
      variant: null,
      widthMm,
      depthMm: widthMm,
      heightMm: 300,
      plan: 'round' as const,
      sweptMm: null,
      massG: null,
      finish: 'gloss' as const,
      gtin: null,
      valueMinor: null,
      startPose: null,
      handlingNote: null,
    })
    const small = await api.products.add({ clientId, product: product('L-1', 90) })
    const large = await api.products.add({ clientId, product: product('L-2', 420) })
    const { jobId } = await api.jobs.add({
      clientId,
      job: {
        contactId: null,
        title: 'Lamps',
        orderNumber: null,
        buyerReference: null,
        costCentre: null,
        callBackDay: null,
        dueDay: null,
        promiseWorkingDays: null,
        returnByDay: null,
        note: null,
      },
      spins: [small, large].map(({ productId }) => ({ productIds: [productId] })),
    })
    const start = await api.planner.start({ jobId })
    expect(start.job?.largest).toMatchObject({ code: 'L-2', sweptMm: 420 })
    const typed = startingTyped(start)
    // The plain standing brief: 244 frames and 3 past them, a loop of 1080 × 1080 at 25, a set of 24.
    expect(typed).toMatchObject({
      stepIn: 'frames',
      step: '244',
      overlap: '3',
      rate: '25',
      set: '24',
      swept: '420',
    })
    const { plan, refusals } = workOutPlan(typed, plannerBasis(start))
    expect(refusals).toEqual({})
    expect(plan.cost?.spins).toBe(2)
  })

  it('is refused where the studio has no such job', async () => {
    await expect(aStudio().api.planner.start({ jobId: 99 })).rejects.toThrow(/not in the studio/)
  })
})

describe('the drawn solid', () => {
  const cornersOf = (view: Parameters<typeof sweptOutline>[0]) =>
    Array.from({ length: 360 }, (_, angle) =>
      seenFaces(steppedSolid(view.sweptMm, view.heightMm), angle, view).flatMap(({ points }) => points),
    ).flat()

  it('stays inside the swept outline however it is turned', () => {
    const view = { sweptMm: 200, heightMm: 240, distanceMm: 900, viewAngleDeg: 15 }
    const outline = sweptOutline(view)
    for (const { x, y } of cornersOf(view)) {
      expect(Math.abs(x)).toBeLessThanOrEqual(outline.widthMm / 2 + 1e-6)
      expect(-y).toBeLessThanOrEqual(outline.aboveMm + 1e-6)
      expect(y).toBeLessThanOrEqual(outline.belowMm + 1e-6)
    }
  })

  it('reaches the sides of the outline, so that its step is the outermost one', () => {
    const view = { sweptMm: 200, heightMm: 240, distanceMm: 900, viewAngleDeg: 0 }
    const widest = Math.max(...cornersOf(view).map(({ x }) => x))
    expect(widest).toBeGreaterThan(sweptOutline(view).widthMm / 2 - 0.1)
  })

  it('draws what is nearer larger', () => {
    const view = { distanceMm: 1000, viewAngleDeg: 0 }
    // Central projection: at y = −100 the scale is 1000 ÷ 900.
    expect(projected({ x: 90, y: -100, z: 0 }, view).x).toBeCloseTo(100, 9)
  })
})
