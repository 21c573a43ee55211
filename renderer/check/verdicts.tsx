import type { TakeReport, Verdict } from '../../main/trade/check/report.ts'
import words from '../look/words.module.css'
import { Fact, Sheet } from '../parts/page.tsx'

const names = [
  ['light', 'Light'],
  ['steps', 'Steps'],
  ['closing', 'Closing'],
  ['centre', 'Centre'],
  ['framing', 'Framing'],
  ['horizon', 'Horizon'],
  ['files', 'Files'],
] as const satisfies readonly (readonly [keyof TakeReport, string])[]

/** What was looked at and how it stands, one sentence each; what cannot be told says why. */
export function Verdicts({ report }: { readonly report: TakeReport }) {
  return (
    <>
      <Sheet>
        {names.map(([key, name]) => (
          <Fact key={key} label={name}>
            <Sentence of={report[key]} isAbove={isAbove(report, report[key])} />
          </Fact>
        ))}
      </Sheet>
      {report.unknown.map((sentence) => (
        <p key={sentence} className={words.quiet}>
          {sentence}
        </p>
      ))}
    </>
  )
}

/** What is said among the findings need not be read twice. */
function isAbove({ findings }: TakeReport, { sentence }: Verdict): boolean {
  return findings.some((finding) => finding.sentence === sentence)
}

function Sentence(props: { readonly of: Verdict; readonly isAbove: boolean }) {
  const { state, sentence } = props.of
  if (props.isAbove) return <strong>See above.</strong>
  if (state === 'found') return <strong>{sentence}</strong>
  return <span className={state === 'unknown' ? words.quiet : undefined}>{sentence}</span>
}
