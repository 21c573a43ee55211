import type { PromisedDay, PromiseMoved } from '../main/trade/promise.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type SampleMove, type SampleState, sampleMoves, sampleStateWords } from '../main/trade/samples.ts'
import { type Writing, writeEvent } from './events.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { promiseOfJob } from './promises.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

export type SampleFate = 'return' | 'keep' | 'destroy'

/** One product of a job on the expected list, and where it is now. Value in minor units of the job's currency. */
export interface Sample {
  readonly id: Id<'sample'>
  readonly jobId: Id<'job'>
  readonly productId: Id<'product'>
  readonly code: string
  readonly name: string
  readonly variant: string | null
  /** False once every spin of it is cancelled. */
  readonly isNeeded: boolean
  readonly expectedDay: string | null
  readonly state: SampleState
  readonly arrivedAt: string | null
  readonly goneAt: string | null
  readonly condition: string | null
  readonly place: string | null
  readonly valueMinor: number | null
  readonly fate: SampleFate
  /** Why its spins go on without it; null unless all of them do. */
  readonly withoutReason: string | null
}

type SampleRecord = Omit<Sample, 'isNeeded'> & { readonly isNeeded: 0 | 1 }

const sampleColumns = `sample.id, sample.job_id AS jobId, sample.product_id AS productId, product.code, product.name,
  product.variant, is_needed AS isNeeded, expected_day AS expectedDay, state, arrived_at AS arrivedAt,
  gone_at AS goneAt, condition, place, sample.value_minor AS valueMinor, fate,
  (SELECT CASE WHEN count(*) = count(s.without_sample_reason) THEN min(s.without_sample_reason) END
   FROM shoot_product sp JOIN shoot s ON s.id = sp.shoot_id
   WHERE sp.product_id = sample.product_id AND s.job_id = sample.job_id AND s.cancelled_at IS NULL) AS withoutReason`

function toSample(record: SampleRecord): Sample {
  return { ...record, isNeeded: record.isNeeded === 1 }
}

/** The expected list of a job, in the order of its spins. */
export function samplesOfJob(db: Db, jobId: Id<'job'>): readonly Sample[] {
  return prepared<[number], SampleRecord>(
    db,
    `SELECT ${sampleColumns} FROM sample JOIN product ON product.id = sample.product_id
     WHERE sample.job_id = ? ORDER BY sample.id`,
  )
    .all(jobId)
    .map(toSample)
}

/** Every move of a sample, newest first. */
export function movesOfSample(db: Db, sampleId: Id<'sample'>) {
  return prepared<
    [number],
    {
      id: Id<'sample_move'>
      at: string
      state: SampleState
      place: string | null
      condition: string | null
      carrier: string | null
      note: string | null
      person: string
    }
  >(
    db,
    `SELECT m.id, m.at, m.state, m.place, m.condition, m.carrier, m.note, person.name AS person
     FROM sample_move m JOIN person ON person.id = m.person_id WHERE m.sample_id = ? ORDER BY m.at DESC, m.id DESC`,
  ).all(sampleId)
}

/**
 * Puts every product of a job's spins on its expected list, once, and marks which are still needed. Call it in
 * the transaction that adds, cancels or restores spins.
 */
export function expectSamples(db: Db, jobId: Id<'job'>): void {
  prepared<[number]>(
    db,
    `INSERT INTO sample (job_id, product_id, value_minor)
     SELECT s.job_id, p.id, p.value_minor FROM shoot s JOIN shoot_product sp ON sp.shoot_id = s.id
     JOIN product p ON p.id = sp.product_id WHERE s.job_id = ? AND s.cancelled_at IS NULL
     ORDER BY s.position, sp.position ON CONFLICT (job_id, product_id) DO NOTHING`,
  ).run(jobId)
  prepared<[number]>(
    db,
    `UPDATE sample SET is_needed = EXISTS (SELECT 1 FROM shoot_product sp JOIN shoot s ON s.id = sp.shoot_id
       WHERE sp.product_id = sample.product_id AND s.job_id = sample.job_id AND s.cancelled_at IS NULL)
     WHERE job_id = ?`,
  ).run(jobId)
}

/** What a move writes down beside the new state. Null leaves place and condition as they were. */
export interface MoveDetail {
  /** When it happened; not after now. */
  readonly at: string
  readonly place: string | null
  readonly condition: string | null
  readonly carrier: string | null
  readonly note: string | null
  /** In minor units; null leaves it as it was. */
  readonly valueMinor: number | null
}

/**
 * Moves samples, one or forty at once: arrived, missing, wrong, broken, back, kept, destroyed. Writes each into
 * its custody log. All of them or none. Refuses a time to come, a time before the sample's last move, a move that
 * its state does not allow, and to destroy or keep what was agreed otherwise: it is the client's.
 */
export function moveSamples(
  writing: Writing,
  sampleIds: readonly Id<'sample'>[],
  move: SampleMove,
  detail: MoveDetail,
): readonly PromiseMoved[] {
  if (detail.at > writing.now) {
    throw new Refusal('sample-in-future', 'This time is still to come. Enter when it really happened.', {
      field: 'at',
    })
  }
  return changeSamples(writing, sampleIds, sampleMoves[move].what, { ...detail }, (sample) => {
    refuseMove(writing.db, sample, move, detail.at)
    writeMove(writing, sample, move, detail)
  })
}

const fateWords: Readonly<Record<SampleFate, string>> = {
  return: 'sent back',
  keep: 'kept',
  destroy: 'destroyed',
}

function refuseMove(db: Db, sample: Sample, move: SampleMove, at: string): void {
  const { from, what } = sampleMoves[move]
  if (!from.includes(sample.state)) {
    throw new Refusal(
      'sample-not-so',
      `${sample.code} is ${sampleStateWords[sample.state]}, so it cannot be put down under “${what}”.`,
    )
  }
  if ((move === 'destroy' || move === 'keep') && sample.fate !== move) {
    throw new Refusal(
      'fate-otherwise',
      `${sample.code} is agreed to be ${fateWords[sample.fate]}. Ask the client, and write down what is agreed first.`,
    )
  }
  const last = prepared<[number], { at: string | null }>(
    db,
    'SELECT max(at) AS at FROM sample_move WHERE sample_id = ?',
  ).get(sample.id)?.at
  if (last && at < last) {
    throw new Refusal(
      'sample-before-last-move',
      `${sample.code} was moved later than this already. Enter a time after its last move.`,
      { field: 'at' },
    )
  }
}

function writeMove({ db, who }: Writing, sample: Sample, move: SampleMove, detail: MoveDetail): void {
  const { to, isGone } = sampleMoves[move]
  prepared<unknown[]>(
    db,
    `UPDATE sample SET state = ?, arrived_at = ?, gone_at = ?, condition = ?, place = ?, value_minor = ? WHERE id = ?`,
  ).run(
    to,
    arrivedAfter(sample, move, detail.at),
    isGone ? detail.at : null,
    detail.condition ?? sample.condition,
    isGone ? null : (detail.place ?? sample.place),
    detail.valueMinor ?? sample.valueMinor,
    sample.id,
  )
  prepared<unknown[]>(
    db,
    `INSERT INTO sample_move (sample_id, at, state, place, condition, carrier, note, person_id)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(sample.id, detail.at, to, detail.place, detail.condition, detail.carrier, detail.note, who.personId)
}

/** When the right sample came: a wrong or missing box before it does not count. */
function arrivedAfter(sample: Sample, move: SampleMove, at: string): string | null {
  if (move === 'miss') return null
  return move === 'arrive' ? at : (sample.arrivedAt ?? at)
}

/** What is agreed about samples before and after: the day they are expected, their value, what becomes of them. */
export function agreeOnSamples(
  writing: Writing,
  sampleIds: readonly Id<'sample'>[],
  agreed: {
    readonly expectedDay?: string | null | undefined
    readonly fate?: SampleFate | undefined
    readonly valueMinor?: number | null | undefined
  },
): readonly PromiseMoved[] {
  return changeSamples(writing, sampleIds, 'samples agreed on', agreed, (sample) => {
    const next = { ...sample, ...withoutUndefined(agreed) }
    prepared<unknown[]>(
      writing.db,
      'UPDATE sample SET expected_day = ?, fate = ?, value_minor = ? WHERE id = ?',
    ).run(next.expectedDay, next.fate, next.valueMinor, sample.id)
  })
}

function withoutUndefined<T extends object>(value: T): Partial<T> {
  return Object.fromEntries(Object.entries(value).filter(([, each]) => each !== undefined)) as Partial<T>
}

/** Lets spins go on without their samples, with a reason; null takes that back. All of them or none. */
export function goWithoutSamples(
  writing: Writing,
  shootIds: readonly Id<'shoot'>[],
  reason: string | null,
): readonly PromiseMoved[] {
  const { db } = writing
  return inOneTransaction(db, () => {
    const spins = [...new Set(shootIds)].map((shootId) => {
      const spin = prepared<[number], { id: Id<'shoot'>; jobId: Id<'job'>; name: string }>(
        db,
        'SELECT id, job_id AS jobId, name FROM shoot WHERE id = ?',
      ).get(shootId)
      if (!spin) throw new Refusal('no-spin', 'This spin is not in the studio.')
      return spin
    })
    const before = promisesOf(db, spins)
    for (const { id } of spins) {
      prepared<unknown[]>(db, 'UPDATE shoot SET without_sample_reason = ? WHERE id = ?').run(reason, id)
    }
    for (const [jobId, ofJob] of grouped(spins, (spin) => spin.jobId)) {
      writeEvent(writing, {
        subject: 'job',
        subjectId: jobId,
        jobId,
        what: reason === null ? 'samples waited for again' : 'spins go on without samples',
        detail: { spins: ofJob.length, names: ofJob.map(({ name }) => name), reason },
      })
      refreshStanding(writing, jobId)
    }
    return tellMoved(writing, before)
  })
}

function changeSamples(
  writing: Writing,
  sampleIds: readonly Id<'sample'>[],
  what: string,
  detail: Readonly<Record<string, unknown>>,
  change: (sample: Sample) => void,
): readonly PromiseMoved[] {
  const { db } = writing
  return inOneTransaction(db, () => {
    const samples = [...new Set(sampleIds)].map((sampleId) => sampleById(db, sampleId))
    const before = promisesOf(db, samples)
    for (const sample of samples) change(sample)
    for (const [jobId, ofJob] of grouped(samples, (sample) => sample.jobId)) {
      writeEvent(writing, {
        subject: 'job',
        subjectId: jobId,
        jobId,
        what,
        detail: { samples: ofJob.length, names: ofJob.map(({ code }) => code), ...detail },
      })
      refreshStanding(writing, jobId)
    }
    return tellMoved(writing, before)
  })
}

function promisesOf(
  db: Db,
  of: readonly { readonly jobId: Id<'job'> }[],
): ReadonlyMap<Id<'job'>, PromisedDay | null> {
  return new Map([...new Set(of.map(({ jobId }) => jobId))].map((jobId) => [jobId, promiseOfJob(db, jobId)]))
}

/** The promises that moved, each written into its job's history. */
function tellMoved(
  writing: Writing,
  promises: ReadonlyMap<Id<'job'>, PromisedDay | null>,
): readonly PromiseMoved[] {
  const { db } = writing
  return [...promises].flatMap(([jobId, before]) => {
    const after = promiseOfJob(db, jobId)
    if (before?.day === after?.day && before?.isExpected === after?.isExpected) return []
    if (before?.day !== after?.day) {
      writeEvent(writing, {
        subject: 'job',
        subjectId: jobId,
        jobId,
        what: after?.isExpected ? 'expected due day moved' : 'due day moved',
        detail: { changes: { dueDay: { from: before?.day ?? null, to: after?.day ?? null } } },
      })
    }
    const job = prepared<[number], { number: string }>(db, 'SELECT number FROM job WHERE id = ?').get(jobId)
    return [{ number: job?.number ?? '', before, after }]
  })
}

function sampleById(db: Db, sampleId: Id<'sample'>): Sample {
  const record = prepared<[number], SampleRecord>(
    db,
    `SELECT ${sampleColumns} FROM sample JOIN product ON product.id = sample.product_id WHERE sample.id = ?`,
  ).get(sampleId)
  if (!record) throw new Refusal('no-sample', 'This sample is not on any expected list.')
  return toSample(record)
}
