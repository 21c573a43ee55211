import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { type AnsweredKind, rateText, stepRangeMm, sumOf } from '../../main/trade/rigRanking.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { countText, dayIn, dayText, numberText, percentText, secondsText, withUnit } from '../parts/format.ts'
import { Columns, Empty, Fact, Part, Sheet } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { sizesText } from '../products/productColumns.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { RateBar } from './rateBar.tsx'
import { SpinPicture } from './spinPicture.tsx'
import css from './whatWorked.module.css'

type Record = Answers['rigEvidence']['ofRig']
type Approved = Answers['rigEvidence']['approved'][number]

const picturesPerPage = 12

/** What worked on a rig: how often clients said yes, to what kinds of product, its faults, and the spins themselves. */
export function WhatWorked({ rigId }: { readonly rigId: number }) {
  const record = useAsk(['rigEvidence', 'ofRig', rigId], () => api.rigEvidence.ofRig.query({ rigId }))
  return (
    <Part title="What worked">
      <Asked of={record}>{(data) => <Worked rigId={rigId} record={data} />}</Asked>
    </Part>
  )
}

function Worked({ rigId, record }: { readonly rigId: number; readonly record: Record }) {
  const { approved } = sumOf(record.kinds)
  if (record.takes === 0) {
    return (
      <Empty sentence="No take was turned on it yet. What clients say to its spins will be counted here." />
    )
  }
  return (
    <>
      <Columns aside>
        <Kinds kinds={record.kinds} />
        <Figures record={record} />
      </Columns>
      {approved > 0 ? (
        <Pictures rigId={rigId} total={approved} />
      ) : (
        <p>No client has said yes to a spin from this rig yet.</p>
      )}
    </>
  )
}

/** The approval as a whole and by finish and size, each with the interval it probably lies in. */
function Kinds({ kinds }: { readonly kinds: readonly AnsweredKind[] }) {
  const dayOf = useDayOf()
  const all = sumOf(kinds)
  return (
    <div className={css.kinds}>
      <div className={css.rate}>
        <p>
          <strong>{`Approved: ${rateText(all.approved, all.answered)}.`}</strong>
        </p>
        {all.answered > 0 ? <RateBar approved={all.approved} answered={all.answered} /> : null}
        <p className={words.quiet}>
          An answered spin is one of which a take on this rig was picked and to which the client said yes or
          wished a change. A change that the sample or the carrier caused is not counted. The interval is
          Wilson’s, of 95&nbsp;%.
        </p>
      </div>
      <Table
        caption="Answered spins by finish and size"
        rows={kinds}
        keyOf={({ finish, sizeStep }) => `${finish} ${sizeStep}`}
        columns={[
          { key: 'finish', head: 'Finish', cell: ({ finish }) => finish },
          { key: 'size', head: 'Longest side', figure: true, cell: ({ sizeStep }) => stepText(sizeStep) },
          {
            key: 'approved',
            head: 'Approved',
            figure: true,
            tight: true,
            cell: ({ approved, answered }) => `${numberText(approved)} of ${numberText(answered)}`,
          },
          {
            key: 'rate',
            head: 'Probably between',
            isHeadSpoken: true,
            cell: ({ approved, answered }) => <RateBar approved={approved} answered={answered} />,
          },
          {
            key: 'last',
            head: 'Last yes',
            tight: true,
            cell: ({ lastYesAt }) => (lastYesAt === null ? '' : dayOf(lastYesAt)),
          },
        ]}
        empty={null}
      />
    </div>
  )
}

function Figures({ record }: { readonly record: Record }) {
  const dayOf = useDayOf()
  const { takes, rejectedTakes, medianStepMs, lastUsedAt, faults } = record
  return (
    <Sheet>
      <Fact label="Takes">{numberText(takes)}</Fact>
      <Fact label="Rejected">
        {`${numberText(rejectedTakes)}${takes > 0 ? `, ${percentText(rejectedTakes / takes)}` : ''}`}
      </Fact>
      <Fact label="Median step">
        {medianStepMs === null ? 'not known yet' : secondsText(medianStepMs / 1000)}
      </Fact>
      <Fact label="Last used">{lastUsedAt === null ? 'never' : dayOf(lastUsedAt)}</Fact>
      {faults.length === 0 ? <Fact label="Faults">none written down</Fact> : null}
      {faults.map(({ kind, faults: count }) => (
        <Fact key={kind} label={`Fault: ${kind}`}>
          {`${numberText(count)}, in ${percentText(count / Math.max(1, takes), 1)} of takes`}
        </Fact>
      ))}
    </Sheet>
  )
}

function Pictures({ rigId, total }: { readonly rigId: number; readonly total: number }) {
  const [page, setPage] = useState(1)
  const ask = { rigId, page: { offset: (page - 1) * picturesPerPage, limit: picturesPerPage } }
  const spins = useAsk(['rigEvidence', 'approved', ask], () => api.rigEvidence.approved.query(ask))
  const pages = Math.max(1, Math.ceil(total / picturesPerPage))
  return (
    <>
      <h3>{`${countText(total, 'spin')} with the client’s yes, the newest first`}</h3>
      <Asked of={spins}>
        {(data) => (
          <ul className={css.pictures}>
            {data.map((spin) => (
              <ApprovedSpin key={spin.shootId} spin={spin} />
            ))}
          </ul>
        )}
      </Asked>
      {pages > 1 ? (
        <ButtonRow>
          <Button disabled={page <= 1} onClick={() => setPage(page - 1)}>
            Newer
          </Button>
          <span>{`Page ${numberText(page)} of ${numberText(pages)}`}</span>
          <Button disabled={page >= pages} onClick={() => setPage(page + 1)}>
            Older
          </Button>
        </ButtonRow>
      ) : null}
    </>
  )
}

function ApprovedSpin({ spin }: { readonly spin: Approved }) {
  const dayOf = useDayOf()
  return (
    <li className={css.spin}>
      <SpinPicture of={spin} />
      <Link className={css.name} to={`/jobs/${spin.jobId}/takes?spin=${spin.shootId}`}>
        {spin.spin}
      </Link>
      <span className={css.line}>{[spin.finish, sizesText(spin)].filter(Boolean).join(', ')}</span>
      <span className={css.line}>
        {[
          spin.client,
          `revision ${spin.revision}`,
          spin.medianStepMs === null ? undefined : `${secondsText(spin.medianStepMs / 1000)} a step`,
        ]
          .filter(Boolean)
          .join(', ')}
      </span>
      <span className={css.line}>{`yes on ${dayOf(spin.answeredAt)}`}</span>
    </li>
  )
}

function stepText(sizeStep: number): string {
  if (sizeStep < 0) return 'not known'
  const { fromMm, toMm } = stepRangeMm(sizeStep)
  return `${numberText(fromMm)} to ${withUnit(toMm, 'mm')}`
}

/** Writes the studio's day of an instant as it is said. */
export function useDayOf(): (instant: string) => string {
  const { timeZone, today } = useStudio()
  return (instant) => dayText(dayIn(timeZone, new Date(instant)), today)
}
