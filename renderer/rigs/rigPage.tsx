import { useParams, useSearchParams } from 'react-router'
import { rigCautions } from '../../main/trade/caution.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { Columns, Page, Part } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { Photos } from './photos.tsx'
import { RevisionFigures } from './revisionFigures.tsx'
import { Revisions } from './revisions.tsx'
import { RigDrawings } from './rigDrawings.tsx'
import { RigSettings } from './rigSettings.tsx'
import type { Revision, Rig } from './rigValue.ts'
import { WhatWorked } from './whatWorked.tsx'

/** One rig: its plan and figures, what changed from revision to revision, and what clients approved on it. */
export function RigPage() {
  const rigId = Number(useParams().rigId)
  const answer = useAsk(['rigs', 'one', rigId], () => api.rigs.one.query({ rigId }))
  return (
    <Asked of={answer} isPage>
      {(whole) => <Whole key={rigId} {...whole} />}
    </Asked>
  )
}

function Whole(props: { readonly rig: Rig; readonly revisions: readonly Revision[] }) {
  const { rig, revisions } = props
  const [params, setParams] = useSearchParams()
  const [newest] = revisions
  const shown = revisions.find(({ revision }) => String(revision) === params.get('revision')) ?? newest
  const all = useAsk(['settings', 'onRig', rig.id], () => api.settings.onRig.query({ rigId: rig.id })).data
  const settings = all?.find(({ id }) => String(id) === params.get('settings')) ?? all?.[0]
  const show = (values: Readonly<Record<string, string>>) =>
    setParams((now) => ({ ...Object.fromEntries(now), ...values }), { preventScrollReset: true })
  const archive = useAct((archived: boolean) => api.rigs.archive.mutate({ rigId: rig.id, archived }))
  if (!newest || !shown) return null
  return (
    <Page
      title={rig.name}
      lead={`${sizeWords[rig.sizeClass]}, revision ${shown.revision} of ${newest.revision}${rig.archivedAt ? ', archived' : ''}`}
      acts={
        <ButtonRow>
          <Button busy={archive.busy} onClick={() => archive.run(rig.archivedAt === null)}>
            {rig.archivedAt ? 'Bring back' : 'Archive'}
          </Button>
          <ButtonLink to={`/rigs/${rig.id}/revise`} kind="main">
            Revise
          </ButtonLink>
        </ButtonRow>
      }
    >
      {rig.note ? <p>{rig.note}</p> : null}
      <Columns aside>
        <RigDrawings name={rig.name} revision={shown} {...(settings ? { rows: settings.rows } : {})} />
        <RevisionFigures revision={shown} />
      </Columns>
      <RigSettings
        rigId={rig.id}
        rigRevisionId={shown.id}
        all={all ?? []}
        shown={settings}
        show={(id) => show({ settings: String(id) })}
      />
      <Photos key={shown.id} rigRevisionId={shown.id} name={`${rig.name}, revision ${shown.revision}`} />
      <Revisions
        name={rig.name}
        revisions={revisions}
        shown={shown}
        show={(revision) => show({ revision: String(revision) })}
      />
      <WhatWorked rigId={rig.id} />
      <Part title="Before you touch it">
        <ul>
          {rigCautions.map(({ about, sentence, pointer }) => (
            <li key={about}>
              {sentence} <span className={words.quiet}>{pointer}</span>
            </li>
          ))}
        </ul>
      </Part>
    </Page>
  )
}

const sizeWords = {
  small: 'For small products',
  medium: 'For medium products',
  large: 'For large products',
} as const
