import { useState } from 'react'
import { Link, useNavigate, useSearchParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { cameraChange } from '../../main/trade/benchRows.ts'
import { safetyList } from '../../main/trade/benchSafety.ts'
import { lightLetter } from '../../main/trade/rigDrawing/drawnRig.ts'
import { type AidName, aidOf, aidWords } from '../check/aidAddress.ts'
import { AidLinks, AidPage } from '../check/aidPage.tsx'
import { Asked } from '../parts/asked.tsx'
import { ButtonLink } from '../parts/button.tsx'
import { Overrule } from '../parts/dialog.tsx'
import { Form, FormRefusal } from '../parts/form.tsx'
import { countText, durationText, massText, numberText } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { Ring } from '../parts/ring.tsx'
import { type Act, api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import css from './beforeTake.module.css'
import { thisDevice } from './benchDevice.ts'
import { CountedBy } from './countedBy.tsx'
import { RigToBuild } from './rigToBuild.tsx'
import { type Plan, StandFields, standOf } from './standFields.tsx'
import { TickList } from './tickList.tsx'
import bench from './turning.module.css'
import { BenchButton } from './turningButtons.tsx'
import { cameraSentence } from './turningWords.tsx'

type Before = Answers['preparation']['before']

/** All that is looked at before the first frame: what to fetch, what stands, what to do, and what can hurt. */
export function BeforeTake({ shootId }: { readonly shootId: number }) {
  const plan = useAsk(['takes', 'plan', shootId], () => api.takes.plan.query({ shootId }))
  return (
    <div className={bench.bench} data-light="bench">
      <Asked of={plan}>
        {(data) =>
          data.rigs.length === 0 || data.settings.length === 0 ? (
            <NothingStands plan={data} />
          ) : (
            <Ready plan={data} />
          )
        }
      </Asked>
    </div>
  )
}

function NothingStands({ plan }: { readonly plan: Plan }) {
  return (
    <div className={css.page}>
      <title>{`Before ${plan.spin} · Turnsheet`}</title>
      <h1>{plan.spin}</h1>
      <Empty
        sentence={
          plan.rigs.length === 0
            ? 'No rig is in the library yet. Write down what stands on the bench first.'
            : 'No settings are written down yet. Write down what is dialled first, on the page of the rig.'
        }
        act={<ButtonLink to="/rigs">Go to the rigs</ButtonLink>}
      />
    </div>
  )
}

function Ready({ plan }: { readonly plan: Plan }) {
  const [stand, setStand] = useState(standOf(plan))
  const asked = {
    shootId: plan.shootId,
    rigRevisionId: stand.rigRevisionId ?? null,
    settingsId: stand.settingsId ?? null,
    benchId: stand.benchId ?? null,
  }
  const before = useAsk(['preparation', 'before', asked], () => api.preparation.before.query(asked))
  const [folder, setFolder] = useState<string>()
  const [params] = useSearchParams()
  const aid = aidOf(params.get('aid'))
  const navigate = useNavigate()
  const start = useAct(
    (overruleReason: string | null) =>
      api.takes.start.mutate({
        shootId: plan.shootId,
        ...stand,
        overruleReason,
        ...(folder === undefined ? {} : { folder }),
        holder: thisDevice(),
      }),
    ({ takeId }) => navigate(`/takes/${takeId}`, { replace: true }),
  )
  const overruled = start.refusal?.canOverrule ? start.refusal : undefined
  return (
    <Asked of={before}>
      {(data) => (
        <>
          <Head before={data} aid={aid} />
          {aid === undefined ? null : <AidPage aid={aid} of={{ ...asked, row: stand.row }} folder={folder} />}
          {/* Hidden behind a help, so that what was chosen and typed stays. */}
          <div className={css.page} hidden={aid !== undefined}>
            <div className={css.columns}>
              <div className={css.column}>
                <Products before={data} />
                <RigChange before={data} row={stand.row} settingsId={asked.settingsId} />
                <section className={css.part}>
                  <h2>What it stands on</h2>
                  <Form
                    refusal={overruled ? undefined : start.refusal}
                    onSubmit={() => start.run(null)}
                    label="What it stands on"
                  >
                    <StandFields plan={plan} stand={stand} onChange={setStand} />
                    <CountedBy benchId={stand.benchId} folder={folder} onChange={setFolder} />
                  </Form>
                </section>
              </div>
              <div className={css.column}>
                <Lists plan={plan} before={data} />
              </div>
            </div>
            <Start plan={plan} row={stand.row} start={start} />
          </div>
        </>
      )}
    </Asked>
  )
}

function Head({ before, aid }: { readonly before: Before; readonly aid: AidName | undefined }) {
  const { spin } = before
  const what = aid === undefined ? 'Before' : `${aidWords[aid].word}:`
  return (
    <header className={bench.head}>
      <title>{`${what} ${spin.spin} · Turnsheet`}</title>
      <div className={bench.told}>
        <h1>
          {spin.spin} <span className={bench.codes}>{spin.products.map(({ code }) => code).join(' ')}</span>
        </h1>
        <p>{`${spin.clientName} · ${spin.jobNumber}`}</p>
      </div>
      <div className={bench.headActs}>
        <AidLinks {...(aid ? { here: aid } : {})} />
        {aid === undefined ? (
          <Link className={bench.headAct} to={`/jobs/${spin.jobId}/takes?spin=${spin.shootId}`}>
            {`Takes of ${spin.jobNumber}`}
          </Link>
        ) : (
          <Link className={bench.headAct} to={`/takes/of/${spin.shootId}`} replace>
            Before the take
          </Link>
        )}
      </div>
    </header>
  )
}

function Products({ before }: { readonly before: Before }) {
  const { spin } = before
  return (
    <section className={css.part} aria-label="What goes on the platter">
      <ul className={css.products}>
        {spin.products.map((product) => (
          <li key={product.code}>
            {product.pictureSha256 ? (
              <img
                className={css.picture}
                src={`/files/${product.pictureSha256}`}
                alt={`${product.code} ${product.name}`}
              />
            ) : (
              <p className={`${css.picture} ${css.noPicture}`}>no picture yet</p>
            )}
            <div>
              <p className={css.name}>{product.name}</p>
              <p className={bench.quiet}>
                {[
                  product.code,
                  product.finish,
                  product.massG === null ? 'not weighed' : massText(product.massG),
                  product.place ? `at ${product.place}` : undefined,
                ]
                  .filter(Boolean)
                  .join(' · ')}
              </p>
              {product.handlingNote ? <p>{product.handlingNote}</p> : null}
            </div>
          </li>
        ))}
      </ul>
      <p className={css.pose}>
        {[
          spin.startPose ? `Start pose: ${spin.startPose}` : 'No start pose is written down',
          spin.direction,
        ].join(' · ')}
      </p>
      {spin.note ? <p>{spin.note}</p> : null}
    </section>
  )
}

/** What stands at the bench against what is to stand, and where the camera goes for this row. */
function RigChange(props: {
  readonly before: Before
  readonly row: number
  readonly settingsId: number | null
}) {
  const { before, row, settingsId } = props
  const { change, rows } = before
  if (!change) return null
  const { standing, next, items } = change
  const minutes = items.reduce((sum, { ms }) => sum + ms, 0) / 60_000
  const named = `${next.name}, revision ${next.revision}`
  const here = rows.find((one) => one.row === row)
  return (
    <section className={css.part}>
      <h2>{change.isSameRig ? 'The rig stands' : 'The rig is to be changed'}</h2>
      {change.isSameRig ? (
        <p>{`${named}, as for the last take at this bench.${change.newSettings ? ' The settings are new: dial them.' : ''}`}</p>
      ) : (
        <p>
          {standing
            ? `${standing.name}, revision ${standing.revision}, stands here. ${named} is to stand: about ${durationText(minutes)}.`
            : `Nothing was turned at this bench yet. ${named} is to stand: about ${durationText(minutes)}.`}
        </p>
      )}
      {items.length > 0 ? (
        <ul className={css.changes}>
          {items.map((item) => (
            <li key={`${item.part} ${item.light?.before} ${item.light?.after}`}>
              {itemText(item)} <span className={bench.quiet}>{durationText(item.ms / 60_000)}</span>
            </li>
          ))}
        </ul>
      ) : null}
      {change.isSameRig ? null : <RigToBuild rigRevisionId={next.rigRevisionId} name={next.name} />}
      {change.isSameRig ? null : (
        <div className={css.ways}>
          <Link className={bench.headAct} to={`/rigs/${next.rigId}`}>
            How it is built
          </Link>
          <RebuildSheet rigRevisionId={next.rigRevisionId} settingsId={settingsId} />
        </div>
      )}
      {here && rows.length > 1 ? (
        <p>{`Row ${row} of ${rows.length}: ${cameraSentence(
          cameraChange(
            rows.find((one) => one.row === row - 1),
            here,
          ),
        )}`}</p>
      ) : null}
    </section>
  )
}

/** The rebuild sheet on one page, to lay beside the set. */
function RebuildSheet(props: { readonly rigRevisionId: number; readonly settingsId: number | null }) {
  const studio = useAsk(['studio', 'one'], () => api.studio.one.query())
  const print = useAct(
    () => api.prints.rebuildSheet.mutate({ ...props, paper: studio.data?.studio.paper ?? 'A4' }),
    ({ paperId }) => openPaper(paperId),
  )
  return (
    <>
      <button type="button" className={bench.headAct} onClick={() => print.run()}>
        Rebuild sheet
      </button>
      {print.refusal ? <FormRefusal sentence={print.refusal.sentence} /> : null}
    </>
  )
}

type ChangeItem = NonNullable<Before['change']>['items'][number]

/** `Light B moved`, by the letter of the rig that is to stand; `the camera`. */
function itemText({ part, light }: ChangeItem): string {
  if (!light) return part === 'settings' ? 'the settings dialled' : `the ${part}`
  const { before, after } = light
  if (after === null) return 'a light taken away'
  return `light ${lightLetter(after)} ${before === null ? 'brought' : 'moved'}`
}

function Lists({ plan, before }: { readonly plan: Plan; readonly before: Before }) {
  const frames = plan.rows
    .filter(({ isKept }) => !isKept)
    .reduce((sum, { framesPerTurn, overlapFrames }) => sum + framesPerTurn + overlapFrames, 0)
  const safety = safetyList({ frames, bytesPerFrame: before.frameBytes.bytes })
  return (
    <>
      <TickList
        of={`ready ${plan.shootId}`}
        title="Getting it ready"
        items={before.before.map((text) => ({ text }))}
      />
      <TickList
        of={`safe ${plan.shootId}`}
        title="Before you turn"
        items={safety.map(({ about, sentence, pointer }) => ({
          text: about === 'load' ? `${sentence} ${loadText(before.load)}` : sentence,
          more: pointer,
        }))}
      />
    </>
  )
}

function loadText(load: Before['load']): string {
  if (!load) return ''
  const mass = load.isWeighed ? `This load weighs ${massText(load.massG)}` : 'Not everything on it is weighed'
  return load.limitG === null
    ? `${mass}; nobody has written down what ${load.platter} carries.`
    : `${mass}; ${load.platter} carries ${massText(load.limitG)}.`
}

function Start(props: { readonly plan: Plan; readonly row: number; readonly start: Act<string | null> }) {
  const { plan, start } = props
  const row = plan.rows.find((one) => one.row === props.row)
  const { refusal } = start
  return (
    <div className={css.start}>
      <Ring
        size={64}
        framesPerTurn={row?.framesPerTurn ?? 1}
        overlap={row?.overlapFrames ?? 0}
        done={0}
        label=""
      />
      <p>
        {`${countText(row?.framesPerTurn ?? 0, 'frame')} to the turn, ${numberText(row?.overlapFrames ?? 0)} more`}
        {plan.rows.length > 1 ? ` · row ${props.row} of ${plan.rows.length}` : ''}
      </p>
      <BenchButton word="Start the take" main onPress={() => start.run(null)} />
      {refusal?.canOverrule ? (
        <Overrule
          refusal={refusal}
          act="Start it all the same"
          busy={start.busy}
          onOverrule={(reason) => start.run(reason)}
          onClose={start.clear}
        />
      ) : null}
    </div>
  )
}
