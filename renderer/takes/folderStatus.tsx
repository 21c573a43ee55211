import { useEffect, useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { durationText, withUnit } from '../parts/format.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import css from './turning.module.css'

type Status = NonNullable<Answers['frameFolders']['status']>

/** What the bench says of the folder whose files count the take; nothing where they do not. */
export function FolderStatus(props: { readonly takeId: number; readonly onAnother: () => void }) {
  const { takeId } = props
  const status = useAsk(['frameFolders', 'status', takeId], () => api.frameFolders.status.query({ takeId }))
  const stop = useAct(() => api.frameFolders.stop.mutate({ takeId }))
  if (!status.data) return null
  const { data } = status
  return (
    <div className={css.progress}>
      {data.sentence ? (
        <>
          <p className={css.cut} role="alert">
            {data.sentence}
          </p>
          {data.state === 'gone' ? (
            <ButtonRow>
              <Button large onClick={props.onAnother}>
                Another folder
              </Button>
              <Button large busy={stop.busy} onClick={() => stop.run()}>
                Count by the key from here
              </Button>
            </ButtonRow>
          ) : null}
        </>
      ) : (
        <div className={css.watching}>
          <Watching status={data} />
          <Button kind="quiet" onClick={props.onAnother}>
            Another folder
          </Button>
        </div>
      )}
      <Notes status={data} />
      {stop.refusal ? (
        <p className={css.refusal} role="alert">
          {stop.refusal.sentence}
        </p>
      ) : null}
    </div>
  )
}

function Watching({ status: { folder, last } }: { readonly status: Status }) {
  const now = useSeconds()
  return (
    <p className={css.quiet}>
      {`counted by files arriving in ${folder}, `}
      {last ? `last ${last.file} ${agoText(now - Date.parse(last.at))} ago` : 'none yet'}
    </p>
  )
}

/** What happened to files that were counted: the frames stay until the person says otherwise. */
function Notes({ status: { deleted, again } }: { readonly status: Status }) {
  return (
    <>
      {deleted ? (
        <p>{`${deleted} is no longer in the folder. Its frame stays; make it void if it is to be shot again.`}</p>
      ) : null}
      {again ? (
        <p>{`${again} came again, and its name has counted. If it is a new frame, make the one before it void: then it counts in its place.`}</p>
      ) : null}
    </>
  )
}

function agoText(ms: number): string {
  const seconds = Math.max(0, Math.round(ms / 1000))
  return seconds < 60 ? withUnit(seconds, 's', 0) : durationText(seconds / 60)
}

/** The instant, told every second. */
function useSeconds(): number {
  const [now, setNow] = useState(Date.now)
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), 1000)
    return () => clearInterval(timer)
  }, [])
  return now
}
