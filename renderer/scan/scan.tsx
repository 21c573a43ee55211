import { lazy, Suspense, useEffect, useState } from 'react'
import { useLocation, useNavigate } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { movesAllowed, sampleStateWords } from '../../main/trade/samples.ts'
import { useNotice } from '../parts/notice.tsx'
import { MoveDialog } from '../samples/moveDialog.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStore } from '../shell/store.ts'
import { isCameraOpen, lastScan, reportScan, useHandScanner } from './scanning.ts'

const CameraDialog = lazy(async () => ({ default: (await import('./cameraDialog.tsx')).CameraDialog }))

type Scanned = Answers['tickets']['read']
type Sample = Scanned['samples'][number]

/** Stands once in every page: hears tickets, and opens the spin of each where one is at work. */
export function Scan() {
  const { pathname } = useLocation()
  const say = useNotice()
  const scan = useStore(lastScan)
  const isLooking = useStore(isCameraOpen)
  const [arriving, setArriving] = useState<readonly Sample[]>()
  const open = useOpening(pathname, setArriving)
  const read = useAct((code: string) => api.tickets.read.query({ code }), open)
  useHandScanner((code) => {
    if (document.querySelector('dialog[open]') && !isCameraOpen.get()) {
      say('A ticket was scanned while something is open here. Close it first, then scan again.')
    } else reportScan(code)
  })
  const { run } = read
  useEffect(() => {
    if (!scan) return
    isCameraOpen.set(false)
    lastScan.set(undefined)
    run(scan.code)
  }, [scan, run])
  const { refusal } = read
  useEffect(() => {
    if (refusal) say(refusal.sentence)
  }, [refusal, say])
  return (
    <>
      {isLooking ? (
        <Suspense fallback={null}>
          <CameraDialog onRead={reportScan} onClose={() => isCameraOpen.set(false)} />
        </Suspense>
      ) : null}
      {arriving ? (
        <MoveDialog samples={arriving} move="arrive" onClose={() => setArriving(undefined)} />
      ) : null}
    </>
  )
}

/** Opens a scanned spin: its arrival among samples, else its takes; at a running take it is only compared. */
function useOpening(pathname: string, arrive: (samples: readonly Sample[]) => void) {
  const navigate = useNavigate()
  const say = useNotice()
  return async (spin: Scanned) => {
    const turning = await runningTakeAt(pathname)
    if (turning) {
      say(
        turning.shootId === spin.shootId
          ? `The ticket is right: take ${turning.number} is of ${spin.name}.`
          : `Wrong ticket: it is of ${spin.name}, but take ${turning.number} of another spin is running here. End it first.`,
      )
      return
    }
    if (spin.cancelledReason !== null) {
      say(`${spin.name} is cancelled: ${spin.cancelledReason}.`)
      void navigate(`/jobs/${spin.jobId}/spins`)
      return
    }
    if (!/^\/(shelf|jobs\/\d+\/samples)/u.test(pathname)) {
      void navigate(
        spin.runningTakeId === null
          ? `/jobs/${spin.jobId}/takes?spin=${spin.shootId}`
          : `/takes/${spin.runningTakeId}`,
      )
      return
    }
    const expected = spin.samples.filter(({ state }) => movesAllowed([state]).includes('arrive'))
    void navigate(`/jobs/${spin.jobId}/samples`)
    if (expected.length > 0) arrive(expected)
    else say(spin.samples.map(standsAt).join(' '))
  }
}

function standsAt({ code, state, place }: Sample): string {
  return `${code} is ${sampleStateWords[state]}${place === null ? '' : `, at ${place}`}.`
}

async function runningTakeAt(pathname: string) {
  const takeId = Number(/^\/takes\/(\d+)$/u.exec(pathname)?.[1])
  if (!takeId) return undefined
  const { take } = await api.takes.one.query({ takeId })
  return take.endedAt === null ? take : undefined
}
