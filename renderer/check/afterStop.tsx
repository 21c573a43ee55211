import { type ReactNode, useState } from 'react'
import { useNavigate } from 'react-router'
import { baseName } from '../../main/trade/frameFiles.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { numberText, withUnit } from '../parts/format.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import { thisDevice } from '../takes/benchDevice.ts'
import type { BenchQueue } from '../takes/benchQueue.ts'
import turning from '../takes/turning.module.css'
import type { TakePage } from '../takes/turningState.ts'
import css from './aids.module.css'
import { Ghost } from './ghost.tsx'
import { WatchedFolder } from './watchedFolder.tsx'

interface OfTake {
  readonly page: TakePage
  readonly queue: BenchQueue
}

/**
 * After a stop (power, a lamp, a call) the last mark is shot again, and the picture says whether the take can go on.
 * The check frame is no frame of the take: where the files count, it is made void on the way on.
 */
export function AfterStop(props: OfTake & { readonly onClose: () => void }) {
  const { page, queue } = props
  const [folder, setFolder] = useState(page.take.folder ?? undefined)
  // As it was when the dialog opened: where files count, the frame of the check moves it on.
  const [mark] = useState(() => Math.max(1, queue.ahead.nextMark))
  const readingMm = page.marksMm[(mark - 1) % page.marksMm.length] ?? 0
  const toDo = (
    <>
      <p className={css.next}>
        {`Turn back past it and come to mark ${numberText(mark)}, ${withUnit(readingMm, 'mm', 4)}, the way you turn; then shoot it again.`}
      </p>
      <p className={css.quiet}>
        Give lamps that were off the time to settle. What was hot stays hot: let it cool before you touch it,
        and leave a tripped fuse or a damaged cable to whoever may repair it where you are.
      </p>
    </>
  )
  return (
    <Dialog title="Check the last mark" onClose={props.onClose} wide>
      <WatchedFolder folder={folder} offered={page.take.folder ?? ''} onChange={setFolder} />
      {folder === undefined ? toDo : <ShotAgain key={folder} {...props} folder={folder} toDo={toDo} />}
    </Dialog>
  )
}

const adviceWords = { 'go on': 'Go on', 'start over': 'Start over' } as const

/** Waits for the frame that is shot from now on, and tells what it says. */
function ShotAgain(
  props: OfTake & {
    readonly folder: string
    /** What is to be done before it: gone once it has come, so that its picture has the room. */
    readonly toDo: ReactNode
    readonly onClose: () => void
  },
) {
  const { page, folder } = props
  // What lies there as the dialog opens is what the new frame is held against.
  const [opened] = useState(() => Date.now())
  const before = useAsk(['checkAids', 'before', folder, opened], () =>
    api.checkAids.before.query({ folder, back: 0 }),
  )
  const after = before.data?.after
  const asked = { folder, after: after ?? '' }
  const checked = useAsk(['checkAids', 'afterStop', asked], () => api.checkAids.afterStop.query(asked), {
    when: after !== undefined && after !== null,
    againWhile: (data) => data === null,
  })
  if (before.refusal) return <FormRefusal sentence={before.refusal.sentence} />
  if (checked.refusal) return <FormRefusal sentence={checked.refusal.sentence} />
  if (after === null) {
    return (
      <FormRefusal sentence="No frame of this take lies in this folder yet. Name the one that the camera writes to." />
    )
  }
  const told = checked.data
  if (!told) {
    return (
      <>
        {props.toDo}
        <p role="status">Waiting for the frame of this mark.</p>
      </>
    )
  }
  if (told.trouble !== null) return <FormRefusal sentence={told.trouble} />
  return (
    <>
      <div role="status">
        <p className={css.verdict}>
          {told.afterStop ? adviceWords[told.afterStop.advice] : 'See for yourself'}
        </p>
        <p>
          {told.afterStop?.sentence ??
            'Too few frames lie before the stop to tell what one step changes. Look at both pictures.'}
        </p>
      </div>
      {/* Above the picture, so that they are in view on a small screen. */}
      <WhatNow
        {...props}
        file={told.file}
        because={told.afterStop?.sentence ?? 'Seen by eye.'}
        isToStartOver={told.afterStop?.advice === 'start over'}
      />
      {page.take.countedBy === 'folder' ? (
        <p className={css.quiet}>The frame shot for this check becomes void: its file stays on the card.</p>
      ) : null}
      {told.pictureUrl && told.beforeUrl ? (
        <Ghost
          newest={{ url: told.pictureUrl, word: 'the mark shot again' }}
          ghost={{ url: told.beforeUrl, word: 'the frame before the stop' }}
        />
      ) : null}
    </>
  )
}

function WhatNow(
  props: OfTake & {
    readonly file: string
    readonly because: string
    readonly isToStartOver: boolean
    readonly onClose: () => void
  },
) {
  const { page, queue, isToStartOver } = props
  const navigate = useNavigate()
  const isByFiles = page.take.countedBy === 'folder'
  const counted = page.frames.findIndex(
    ({ file, isVoid }) => file !== null && !isVoid && baseName(file) === baseName(props.file),
  )
  const again = useAct(
    () =>
      api.takes.again.mutate({
        takeId: page.take.id,
        reason: `started over after a stop. ${props.because}`.slice(0, 500),
        holder: thisDevice(),
      }),
    ({ takeId }) => navigate(`/takes/${takeId}`, { replace: true }),
  )
  return (
    <>
      <ButtonRow>
        <Button
          large
          kind={isToStartOver ? 'plain' : 'main'}
          // The files count a moment later than this page looks at them.
          busy={isByFiles && counted < 0}
          onClick={() => {
            if (isByFiles) queue.act({ kind: 'void', frame: counted + 1 })
            if (queue.ahead.isPaused) queue.act({ kind: 'resume' })
            props.onClose()
          }}
        >
          Go on from here
        </Button>
        <Button large kind={isToStartOver ? 'main' : 'plain'} busy={again.busy} onClick={() => again.run()}>
          Start over
        </Button>
      </ButtonRow>
      {again.refusal ? (
        <p className={turning.refusal} role="alert">
          {again.refusal.sentence}
        </p>
      ) : null}
    </>
  )
}
