import { useEffect, useRef, useState } from 'react'
import { isTicketLike } from '../../main/trade/ticketCode.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { TextField } from '../parts/field.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { cameraSentence, lookEveryMs, openCamera, readFrame, whyNoCamera } from './cameraReading.ts'
import css from './scan.module.css'

/** Looks for a ticket through the camera; its code can also be typed here. */
export function CameraDialog(props: {
  readonly onRead: (code: string) => void
  readonly onClose: () => void
}) {
  const [typed, setTyped] = useState('')
  const { video, problem, foreign } = useCamera(props.onRead)
  return (
    <Dialog title="Scan a ticket" onClose={props.onClose}>
      {problem ? (
        <p role="alert">{problem}</p>
      ) : (
        <>
          <video ref={video} className={css.video} muted playsInline aria-label="What the camera sees" />
          <p className={words.quiet} role="status">
            {foreign
              ? `“${foreign}” is no ticket of this program. Hold the square code of a ticket, a label or a slate before the camera.`
              : 'Hold the square code of a ticket, a label or a slate before the camera.'}
          </p>
        </>
      )}
      <Form label="Type the code" onSubmit={() => props.onRead(typed)}>
        <FieldLine>
          <TextField
            label="Or type the code"
            hint="It stands in small letters on the ticket."
            value={typed}
            onChange={setTyped}
          />
        </FieldLine>
        <ButtonRow>
          <Button type="submit" disabled={typed.trim() === ''}>
            Open its spin
          </Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

/** The camera from mounting to unmounting: its picture, why it fails, and a code it saw that is none of ours. */
function useCamera(onRead: (code: string) => void) {
  const video = useRef<HTMLVideoElement>(null)
  const latest = useRef(onRead)
  latest.current = onRead
  const [problem, setProblem] = useState(whyNoCamera)
  const [foreign, setForeign] = useState<string>()
  useEffect(() => {
    if (whyNoCamera()) return
    const canvas = document.createElement('canvas')
    let stream: MediaStream | undefined
    let timer: ReturnType<typeof setInterval> | undefined
    let isOver = false
    const stop = () => {
      isOver = true
      clearInterval(timer)
      for (const track of stream?.getTracks() ?? []) track.stop()
    }
    const look = () => {
      const code = video.current && readFrame(video.current, canvas)
      if (!code) return
      if (isTicketLike(code)) {
        stop()
        latest.current(code)
      } else setForeign(code.slice(0, 60))
    }
    openCamera().then(
      async (opened) => {
        stream = opened
        if (isOver || !video.current) return stop()
        video.current.srcObject = opened
        await video.current.play().catch(() => {})
        if (!isOver) timer = setInterval(look, lookEveryMs)
      },
      (error: unknown) => {
        if (!isOver) setProblem(cameraSentence(error))
      },
    )
    return stop
  }, [])
  return { video, problem, foreign }
}
