import { useEffect, useState } from 'react'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { Form } from '../parts/form.tsx'
import { numberText } from '../parts/format.ts'
import type { BenchQueue } from './benchQueue.ts'
import css from './turning.module.css'
import { BenchButton } from './turningButtons.tsx'
import type { TakePage } from './turningState.ts'

/** How many of the last marks stand on the dial. */
const dialMarks = 10

/**
 * Back to one of the last ten marks by one press, or to any by typing it; frames from there on become void. The
 * other way too: a frame that was made void by mistake becomes good again.
 */
export function BackDialog(props: {
  readonly page: TakePage
  readonly queue: BenchQueue
  readonly onClose: () => void
}) {
  const { page, queue } = props
  const { nextMark: last, lastVoid } = queue.ahead
  const onRestore = (frame: number) => {
    queue.act({ kind: 'restore', frame })
    props.onClose()
  }
  // Marks count from 1 where they are spoken of, and from 0 where they are kept.
  const onBack = (mark: number) => {
    queue.act({ kind: 'back', mark: mark - 1 })
    props.onClose()
  }
  const marks = Array.from({ length: Math.min(dialMarks, last) }, (_, index) => last - index)
  useKey('v', () => lastVoid !== undefined && onRestore(lastVoid))
  useDigits((digit) => {
    const mark = marks[digit === 0 ? 9 : digit - 1]
    if (mark !== undefined) onBack(mark)
  })
  return (
    <Dialog title="Back to a mark" onClose={props.onClose} wide>
      <p className={css.near}>
        Every frame from the mark on becomes void and is shot again. Its files stay on the card.
      </p>
      <div className={css.dialOfMarks}>
        {marks.map((mark, index) => (
          <BenchButton
            key={mark}
            word={`Mark ${numberText(mark)}, ${numberText(readingMm(page, mark), 4)}\u00a0mm`}
            hint={String((index + 1) % 10)}
            onPress={() => onBack(mark)}
          />
        ))}
      </div>
      {lastVoid === undefined ? null : (
        <BenchButton
          wide
          word={`Frame ${numberText(lastVoid)} was good after all`}
          hint="V"
          onPress={() => onRestore(lastVoid)}
        />
      )}
      <TypedMark page={page} last={last} onBack={onBack} />
    </Dialog>
  )
}

function TypedMark(props: {
  readonly page: TakePage
  readonly last: number
  readonly onBack: (mark: number) => void
}) {
  const { page, last } = props
  const [mark, setMark] = useState<number | null>(null)
  const isThere = mark !== null && mark >= 1 && mark <= last
  return (
    <Form onSubmit={() => isThere && props.onBack(mark)}>
      <NumberField
        label="Or another mark"
        name="mark"
        value={mark}
        onChange={setMark}
        hint={
          isThere
            ? `Turn the platter back to ${numberText(readingMm(page, mark), 4)}\u00a0mm.`
            : `The take has come to mark ${numberText(last)}.`
        }
      />
      <ButtonRow>
        <Button large kind="main" type="submit" disabled={!isThere}>
          Go back
        </Button>
      </ButtonRow>
    </Form>
  )
}

function readingMm(page: TakePage, mark: number): number {
  return page.marksMm[(mark - 1) % page.marksMm.length] ?? 0
}

/** Hears digits while nothing is typed. */
export function useDigits(onDigit: (digit: number) => void): void {
  useHeard(/^\d$/u, (key) => onDigit(Number(key)))
}

function useKey(letter: string, onKey: () => void): void {
  useHeard(new RegExp(`^${letter}$`, 'iu'), onKey)
}

function useHeard(keys: RegExp, onKey: (key: string) => void): void {
  useEffect(() => {
    const hear = (event: KeyboardEvent) => {
      const { target } = event
      if (!keys.test(event.key) || event.repeat) return
      if (target instanceof Element && target.closest('input, textarea, select')) return
      event.preventDefault()
      onKey(event.key)
    }
    window.addEventListener('keydown', hear)
    return () => window.removeEventListener('keydown', hear)
  })
}
