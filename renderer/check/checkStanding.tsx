import { useState } from 'react'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Form } from '../parts/form.tsx'
import { countText, instantText, numberText } from '../parts/format.ts'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import type { TakePage } from '../takes/turningState.ts'
import type { CheckOfTake } from './checkOfTake.ts'
import { readText } from './checkStrip.tsx'
import { FolderList } from './folderList.tsx'
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
            <>
              <Button busy={stop.busy} onClick={() => stop.run()}>
                Stop checking
              </Button>
              {status.sentence && !isAsked ? (
                <Button kind="quiet" onClick={() => setNaming(true)}>
                  Another folder
                </Button>
              ) : null}
            </>
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
      <OlderReport check={check} />
      {isAsked ? (
        <NameFolder take={take} check={check} isLeft={isNaming} onDone={() => setNaming(false)} />
      ) : null}
    </div>
  )
}

function StandingText({ check }: { readonly check: CheckOfTake }) {
  const { status, report, checkedAt, folders } = check
  const { timeZone } = useStudio()
  const { framesRead, framesFound } = status
  const read = `${numberText(framesRead)} of ${countText(framesFound, 'frame')}`
  switch (status.state) {
    case 'reading':
      return `Reading: ${read}.`
    case 'watching':
      return framesRead === 0
        ? 'No frame is read yet. They are read as they arrive.'
        : `${countText(framesRead, 'frame')} read. More are read as they arrive.`
    case 'done':
      return `${countText(framesRead, 'frame')} read, from ${foldersText(status.folders)}.`
    case 'stopped':
      return `${read} were read before it was stopped.`
    case 'gone':
      return `${read} read. What is missing is looked for again and again.`
    case 'failed':
      return `The reading broke off after ${read}.`
    case 'none':
      return report && checkedAt
        ? `${readText(report)} read ${instantText(checkedAt, timeZone)} from ${foldersText(folders)}.`
        : 'The pictures of this take were not read yet.'
  }
}

/** What stands below is kept from an earlier reading until a frame of this one is read. */
function OlderReport({ check: { status, report, checkedAt, folders } }: { readonly check: CheckOfTake }) {
  const { timeZone } = useStudio()
  if (status.state === 'none' || status.framesRead > 0 || !report || report.framesRead === 0 || !checkedAt) {
    return null
  }
  return (
    <p className={`${words.quiet} ${css.older}`}>
      {`What stands below was read ${instantText(checkedAt, timeZone)} from ${foldersText(folders)}: ${readText(report)}.`}
    </p>
  )
}

function foldersText(folders: readonly string[]): string {
  return folders.join(' and ')
}

/** The folder the frames lie in, or several where the take went on in another. */
function NameFolder(props: {
  readonly take: Take
  readonly check: CheckOfTake
  /** True where a person opened it, and may leave it as it was. */
  readonly isLeft: boolean
  readonly onDone: () => void
}) {
  const { take, check } = props
  const [folders, setFolders] = useState(foldersToName(check))
  const start = useAct(
    () => api.takeCheck.start.mutate({ takeId: take.id, folders: [...folders] }),
    props.onDone,
  )
  return (
    <Form label="Read the pictures" refusal={start.refusal} onSubmit={() => start.run()}>
      <FolderList
        folders={folders}
        alone="Folder with the frames"
        oneOf={(number) =>
          number === 1 ? 'Folder with the first frames' : `Folder ${number}, where it goes on`
        }
        onChange={setFolders}
      />
      <ButtonRow>
        <Button type="submit" kind="main" busy={start.busy}>
          Check the pictures
        </Button>
        <Button kind="quiet" onClick={() => setFolders([...folders, ''])}>
          The rest lies in another folder
        </Button>
        {props.isLeft ? (
          <Button kind="quiet" onClick={props.onDone}>
            Leave it as it is
          </Button>
        ) : null}
      </ButtonRow>
    </Form>
  )
}

/** Where they are read now; else where they lie as far as anybody has said. */
function foldersToName({ status, known }: CheckOfTake): readonly string[] {
  const [folders] = [status.folders, known].filter(({ length }) => length > 0)
  return folders ?? ['']
}
