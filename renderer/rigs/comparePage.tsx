import { useSearchParams } from 'react-router'
import { drawnRig } from '../../main/trade/rigDrawing/drawnRig.ts'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { CheckField, SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { Empty, Page, Part } from '../parts/page.tsx'
import { RigPlan } from '../parts/rigDrawing.tsx'
import { api, useAsk } from '../shell/api.ts'
import css from './comparison.module.css'
import { Changeover, type Compared, Comparison } from './comparison.tsx'
import type { Revision } from './rigValue.ts'
import { wallScale } from './wallScale.ts'

const frame = { width: 480, height: 340 }

/** Two revisions, of one rig or of two, chosen in the page's address, beside each other. */
export function ComparePage() {
  const [params, setParams] = useSearchParams()
  const [before, after] = [idIn(params.get('before')), idIn(params.get('after'))]
  const only = params.get('only') === 'yes'
  const sides = [useSide(before), useSide(after)] as const
  const set = (values: Readonly<Record<string, string>>) =>
    setParams((now) => ({ ...Object.fromEntries(now), ...values }), {
      replace: true,
      preventScrollReset: true,
    })
  const [first, second] = sides
  const scale = wallScale(
    sides.flatMap((side) => side?.revision ?? []),
    { width: frame.width - 150, height: frame.height - 60 },
  )
  return (
    <Page
      title="Compare two rigs"
      lead="Only what differs is lit. The change is counted from the first to the second."
      acts={
        <ButtonRow>
          <Button
            disabled={before === null || after === null}
            onClick={() => set({ before: String(after), after: String(before) })}
          >
            Swap them
          </Button>
          <ButtonLink to="/rigs">Rigs</ButtonLink>
        </ButtonRow>
      }
    >
      <div className={css.sides}>
        {(['before', 'after'] as const).map((key, index) => (
          <Side
            key={key}
            title={index === 0 ? 'From' : 'To'}
            side={sides[index]}
            scale={scale}
            onChange={(id) => set({ [key]: String(id) })}
          />
        ))}
      </div>
      {first && second ? (
        <>
          <Part title="Time to change">
            <Changeover before={first} after={second} />
          </Part>
          <Part title="Figure by figure">
            <CheckField
              label="Show only what differs"
              checked={only}
              onChange={(checked) => set({ only: checked ? 'yes' : '' })}
            />
            <Comparison before={first} after={second} only={only} />
          </Part>
        </>
      ) : (
        <Empty sentence="Choose the two rigs, or two revisions of one." />
      )}
    </Page>
  )
}

type Chosen = Compared & { readonly revision: Revision; readonly revisions: readonly Revision[] }

function useSide(revisionId: number | null): Chosen | undefined {
  const chosen = useAsk(
    ['rigs', 'revision', revisionId],
    () => api.rigs.revision.query({ rigRevisionId: revisionId ?? 0 }),
    { when: revisionId !== null },
  ).data
  const whole = useAsk(
    ['rigs', 'one', chosen?.rigId],
    () => api.rigs.one.query({ rigId: chosen?.rigId ?? 0 }),
    { when: chosen !== undefined },
  ).data
  if (revisionId === null || !chosen || !whole) return undefined
  return {
    id: revisionId,
    name: `${whole.rig.name}, revision ${chosen.revision}`,
    revision: chosen,
    revisions: whole.revisions,
  }
}

function Side(props: {
  readonly title: string
  readonly side: Chosen | undefined
  readonly scale: number
  readonly onChange: (revisionId: number) => void
}) {
  const { side, title } = props
  const rigs = useAsk(['rigs', 'choices'], () => api.rigs.choices.query()).data ?? []
  return (
    <section className={css.side} aria-label={title}>
      <FieldLine>
        <SelectField
          label={`${title}: rig`}
          empty="Choose a rig"
          value={side ? String(side.revision.rigId) : ''}
          options={[
            ...rigs.map(({ rigId, name }) => ({ value: String(rigId), label: name })),
            // A rig that is archived is compared all the same.
            ...(side && !rigs.some(({ rigId }) => rigId === side.revision.rigId)
              ? [{ value: String(side.revision.rigId), label: side.name }]
              : []),
          ]}
          onChange={(id) => {
            const rig = rigs.find(({ rigId }) => String(rigId) === id)
            if (rig) props.onChange(rig.rigRevisionId)
          }}
        />
        {side ? (
          <SelectField
            label={`${title}: revision`}
            width="wide"
            value={String(side.id)}
            options={side.revisions.map(({ id, revision, why }) => ({
              value: String(id),
              label: `${revision}: ${why}`,
            }))}
            onChange={(id) => props.onChange(Number(id))}
          />
        ) : null}
      </FieldLine>
      {side ? (
        <RigPlan {...frame} rig={drawnRig(side.revision)} mmPerPx={props.scale} label={side.name} />
      ) : null}
    </section>
  )
}

function idIn(text: string | null): number | null {
  return text !== null && /^[1-9]\d{0,14}$/u.test(text) ? Number(text) : null
}
