import { useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Form } from '../parts/form.tsx'
import { countText, instantText, numberText } from '../parts/format.ts'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { FolderField } from '../takes/folderField.tsx'
import type { TakePage } from '../takes/turningState.ts'
import type { CheckOfTake } from './checkOfTake.ts'
import { readText } from './checkStrip.tsx'
import css from './standing.module.css'

type Take = TakePage['take']

/** How the check stands, and what can be done about it: stop it, go on, name the folder. */
export function CheckStanding({ take, check }: { readonly take: Take; readonly check: CheckOfTake }) {
  const { status } = check
  const [isNaming, setNaming] = useState(false)
  const stop = useAct(() => api.takeCheck.stop.mutate({ takeId: take.id }))
  const isOn = status.state === 'reading' || status.state === 'watching'
  const isAsked = isNaming || ((status.state === 'none' || status.state === 'gone') && !check.report)
  return (
    <div className={css.standing}>
      <div className={css.line}>
        <p role="status">
          <StandingText check={check} />
        </p>
        {/* Its room is kept when nothing is read, so that nothing moves. */}
        <progress
          className={isOn ? undefined : css.still}
          aria-label="Frames read"
          max={Math.max(1, status.framesFound)}
          value={status.framesRead}
        />
        <ButtonRow>
          {isOn ? (
            <Button busy={stop.busy} onClick={() => stop.run()}>
              Stop checking
            </Button>
          ) : isAsked ? null : (
            <Button onClick={() => setNaming(true)}>Read the pictures again</Button>
          )}
        </ButtonRow>
      </div>
      {status.sentence ? (
        <p className={css.sentence} role="alert">
          {status.sentence}
        </p>
      ) : null}
      {isAsked ? <NameFolder take={take} check={check} onDone={() => setNaming(false)} /> : null}
    </div>
  )
}

function StandingText({ check }: { readonly check: CheckOfTake }) {
  const { status, report, checkedAt, folder } = check
  const { timeZone } = useStudio()
  const { framesRead, framesFound } = status
  const read = `${numberText(framesRead)} of ${countText(framesFound, 'frame')}`
  switch (status.state) {
    case 'reading':
      return `Reading: ${read}.`
    case 'watching':
      return `${countText(framesRead, 'frame')} read. More are read as they arrive.`
    case 'done':
      return `${countText(framesRead, 'frame')} read, from ${status.folder}.`
    case 'stopped':
      return `${read} were read before it was stopped.`
    case 'gone':
      return `${read} read. The folder is looked for again and again.`
    case 'failed':
      return `The reading broke off after ${read}.`
    case 'none':
      return report && checkedAt
        ? `${readText(report)} read ${instantText(checkedAt, timeZone)} from ${folder}.`
        : 'The pictures of this take were not read yet.'
  }
}

/** The folder the frames lie in. */
function NameFolder(props: {
  readonly take: Take
  readonly check: CheckOfTake
  readonly onDone: () => void
}) {
  const { take, check } = props
  const [folder, setFolder] = useState(check.status.folder ?? check.folder ?? take.folder ?? '')
  const start = useAct(() => api.takeCheck.start.mutate({ takeId: take.id, folder }), props.onDone)
  return (
    <Form label="Read the pictures" refusal={start.refusal} onSubmit={() => start.run()}>
      <FolderField label="Folder with the frames" value={folder} onChange={setFolder} />
      <ButtonRow>
        <Button type="submit" kind="main" busy={start.busy}>
          Check the pictures
        </Button>
      </ButtonRow>
    </Form>
  )
}
