import type { TakeReport, Verdict } from '../../main/trade/check/report.ts'
import words from '../look/words.module.css'
import { percentText } from '../parts/format.ts'
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
            <Grounds of={report} name={key} />
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

/** What a verdict rests on: how sure the closing is, and what the centre was measured on. */
function Grounds(props: { readonly of: TakeReport; readonly name: keyof TakeReport }) {
  const { closing, centre } = props.of
  const text =
    props.name === 'closing' && closing.confidence !== null
      ? closingGrounds(closing.by, closing.confidence)
      : props.name === 'centre' && centre.measuredOn !== null && centre.quality !== null
        ? `Measured on ${centre.measuredOn}. The fit rests on ${percentText(centre.quality)} of these edges.`
        : undefined
  return text === undefined ? null : <span className={words.quiet}> {text}</span>
}

function closingGrounds(by: TakeReport['closing']['by'], confidence: number): string {
  // Rounded down: 99.6 % is not quite sure.
  const sure = percentText(Math.floor(100 * confidence) / 100)
  if (by === 'edge mark') return `Sure to ${sure}, by the mark’s angles.`
  return confidence >= 1
    ? 'No other frame comes near.'
    : `Sure to ${sure}: the less, the nearer another frame comes too.`
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
