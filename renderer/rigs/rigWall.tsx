import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { drawnRig } from '../../main/trade/rigDrawing/drawnRig.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { CheckField, SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { countText, dayIn, dayText, secondsText, withUnit } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { RigPlan } from '../parts/rigDrawing.tsx'
import { useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './rigWall.module.css'
import { wallScale } from './wallScale.ts'

type RigLine = Answers['rigs']['list']['lines'][number]

const frame = { width: 216, height: 224 }
const rigsPerPage = 24

const orders = [
  { value: 'sizeClass', label: 'By size' },
  { value: 'name', label: 'By name' },
  { value: 'newest', label: 'Newest first' },
] as const

/** Every rig as a plan at one scale, so that they are told apart by sight. */
export function RigWall() {
  const place = useTablePlace({ key: 'sizeClass', descending: false })
  const archived = place.filter('archived') === 'yes'
  const order = place.sort.key as (typeof orders)[number]['value']
  const ask = { order, archived, page: { offset: (place.page - 1) * rigsPerPage, limit: rigsPerPage } }
  const answer = useAsk(['rigs', 'list', ask], () => api.rigs.list.query(ask))
  return (
    <Page
      title="Rigs"
      lead="What stands: platter, lights, backdrop, camera and lens place. Seen from above, all at one scale."
      acts={
        <ButtonRow>
          <ButtonLink to="/rigs/platters">Platters</ButtonLink>
          <ButtonLink to="/rigs/equipment">Equipment</ButtonLink>
          <ButtonLink to="/rigs/compare">Compare two</ButtonLink>
          <ButtonLink to="/rigs/new" kind="main">
            Write down a rig
          </ButtonLink>
        </ButtonRow>
      }
    >
      <FieldLine>
        <SelectField
          label="Order"
          value={order}
          options={orders}
          onChange={(key) => place.toSort({ key, descending: false })}
        />
        <CheckField
          label="Show the archived rigs"
          checked={archived}
          onChange={(checked) => place.setFilter('archived', checked ? 'yes' : '')}
        />
      </FieldLine>
      <Asked of={answer}>
        {({ lines, total }) =>
          lines.length === 0 ? (
            <NoRigs archived={archived} />
          ) : (
            <>
              <Wall rigs={lines} />
              {total > rigsPerPage ? (
                <ButtonRow>
                  <Button disabled={place.page <= 1} onClick={() => place.toPage(place.page - 1)}>
                    Back
                  </Button>
                  <span>{`Page ${place.page} of ${Math.ceil(total / rigsPerPage)}, ${countText(total, 'rig')}`}</span>
                  <Button
                    disabled={place.page * rigsPerPage >= total}
                    onClick={() => place.toPage(place.page + 1)}
                  >
                    Further
                  </Button>
                </ButtonRow>
              ) : null}
            </>
          )
        }
      </Asked>
    </Page>
  )
}

function NoRigs({ archived }: { readonly archived: boolean }) {
  if (archived) return <Empty sentence="No rig has been archived." />
  return (
    <Empty
      sentence="No rig is written down yet. Measure a platter with its own tape first, then write down what stands round it."
      act={<ButtonLink to="/rigs/platters">Add a platter</ButtonLink>}
    />
  )
}

function Wall({ rigs }: { readonly rigs: readonly RigLine[] }) {
  const mmPerPx = wallScale(
    rigs.map(({ current }) => current),
    frame,
  )
  return (
    <>
      <ScaleBar mmPerPx={mmPerPx} />
      <ul className={css.wall}>
        {rigs.map((rig) => (
          <li key={rig.id} className={css.rig}>
            <RigPlan
              {...frame}
              rig={drawnRig(rig.current)}
              mmPerPx={mmPerPx}
              label={`${rig.name}, revision ${rig.current.revision}`}
            />
            <RigWords rig={rig} />
          </li>
        ))}
      </ul>
    </>
  )
}

function RigWords({ rig }: { readonly rig: RigLine }) {
  const { timeZone, today } = useStudio()
  const { current } = rig
  const last = rig.lastUsedAt && dayText(dayIn(timeZone, new Date(rig.lastUsedAt)), today)
  return (
    <div className={css.words}>
      <h2>
        <Link to={`/rigs/${rig.id}`} className={css.name}>
          {rig.name}
        </Link>
      </h2>
      <p className={words.quiet}>
        {`${rig.sizeClass}, revision ${current.revision}, rim ${withUnit(current.rimMm, 'mm')}, ${withUnit(current.focalMm, 'mm')} lens`}
      </p>
      <p>
        {rig.spinsApproved > 0
          ? `${countText(rig.spinsApproved, 'spin')} with the client’s yes`
          : 'No client’s yes yet'}
        {rig.medianStepMs === null ? '' : `, ${secondsText(rig.medianStepMs / 1000)} a step`}
      </p>
      <p className={words.quiet}>{last ? `Last turned ${last}` : 'Not turned yet'}</p>
    </div>
  )
}

/** What a length on this wall is: the longest round length that fits 160 px. */
function ScaleBar({ mmPerPx }: { readonly mmPerPx: number }) {
  const lengthMm = [5000, 2000, 1000, 500, 200, 100, 50, 20, 10].find((mm) => mm / mmPerPx <= 160) ?? 10
  return (
    <div className={css.scale}>
      <span className={css.bar} style={{ width: lengthMm / mmPerPx }} aria-hidden="true" />
      {`${withUnit(lengthMm, 'mm')} on every plan`}
    </div>
  )
}
