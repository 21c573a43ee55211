import { frameRate, frameRateName, frameRateNames } from '../../main/trade/turn/frameRate.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField, TextField } from '../parts/field.tsx'
import { NumberField } from '../parts/figureFields.tsx'
import { FieldLine } from '../parts/form.tsx'
import css from './briefForm.module.css'
import { type DeliverableValue, freshKey } from './briefValue.ts'

type Kind = DeliverableValue['kind']

const kindWords: Record<Kind, string> = { loop: 'Loop video', 'frame set': 'Frame set', stills: 'Stills' }
const videoTypes = ['mp4', 'mov', 'webm'] as const
const pictureTypes = ['jpg', 'png', 'webp', 'tif'] as const

/** The deliverables of a brief, one under the other. */
export function DeliverablesFields(props: {
  readonly deliverables: readonly DeliverableValue[]
  readonly onChange: (deliverables: readonly DeliverableValue[]) => void
}) {
  const { deliverables, onChange } = props
  const kinds: readonly Kind[] = ['loop', 'frame set', 'stills']
  return (
    <>
      <ol className={css.items}>
        {deliverables.map((deliverable, index) => (
          <li key={deliverable.key} className={css.item} aria-label={`Deliverable ${index + 1}`}>
            <DeliverableFields
              deliverable={deliverable}
              index={index}
              onChange={(next) => onChange(deliverables.with(index, next))}
            />
            <Button
              kind="quiet"
              disabled={deliverables.length === 1}
              aria-label={`Take away ${deliverable.name || `deliverable ${index + 1}`}`}
              onClick={() => onChange(deliverables.toSpliced(index, 1))}
            >
              Take away
            </Button>
          </li>
        ))}
      </ol>
      <ButtonRow>
        {kinds.map((kind) => (
          <Button key={kind} onClick={() => onChange([...deliverables, newDeliverable(kind, deliverables)])}>
            {`Add ${kind === 'stills' ? 'stills' : `a ${kindWords[kind].toLowerCase()}`}`}
          </Button>
        ))}
      </ButtonRow>
    </>
  )
}

function DeliverableFields(props: {
  readonly deliverable: DeliverableValue
  readonly index: number
  readonly onChange: (deliverable: DeliverableValue) => void
}) {
  const { deliverable, index, onChange } = props
  const patch = (some: Partial<DeliverableValue>) => onChange({ ...deliverable, ...some })
  const isLoop = deliverable.kind === 'loop'
  return (
    <FieldLine>
      <TextField
        label={kindWords[deliverable.kind]}
        name={`deliverables.${index}.name`}
        width="narrow"
        value={deliverable.name}
        onChange={(name) => patch({ name })}
      />
      {isLoop ? (
        <RateField deliverable={deliverable} index={index} onChange={patch} />
      ) : (
        <NumberField
          label="Frames"
          name={`deliverables.${index}.frames`}
          value={deliverable.frames}
          onChange={(frames) => patch({ frames })}
        />
      )}
      <NumberField
        label="Width"
        name={`deliverables.${index}.widthPx`}
        unit="px"
        value={deliverable.widthPx}
        onChange={(widthPx) => patch({ widthPx })}
      />
      <NumberField
        label="Height"
        name={`deliverables.${index}.heightPx`}
        unit="px"
        value={deliverable.heightPx}
        onChange={(heightPx) => patch({ heightPx })}
      />
      <SelectField
        label="File type"
        name={`deliverables.${index}.fileType`}
        width="narrow"
        value={deliverable.fileType}
        options={(isLoop ? videoTypes : pictureTypes).map((type) => ({ value: type, label: type }))}
        onChange={(fileType) => patch({ fileType })}
      />
      <NumberField
        label="Each file at most"
        name={`deliverables.${index}.fileCapBytes`}
        unit="MB"
        places={6}
        value={deliverable.fileCapBytes}
        onChange={(fileCapBytes) => patch({ fileCapBytes })}
      />
    </FieldLine>
  )
}

function RateField(props: {
  readonly deliverable: DeliverableValue
  readonly index: number
  readonly onChange: (some: Partial<DeliverableValue>) => void
}) {
  const { fpsNum, fpsDen, dropFrame } = props.deliverable
  return (
    <SelectField
      label="Frames a second"
      name={`deliverables.${props.index}.fpsNum`}
      width="narrow"
      value={fpsNum === null || fpsDen === null ? '' : frameRateName(fpsNum, fpsDen, dropFrame)}
      options={frameRateNames.map((name) => ({ value: name, label: name }))}
      onChange={(name) => {
        const rate = frameRate(name)
        props.onChange({ fpsNum: rate.numerator, fpsDen: rate.denominator, dropFrame: rate.dropped > 0 })
      }}
    />
  )
}

/** A further deliverable starts with the size of the last one of its kind. Common practice, no published source. */
function newDeliverable(kind: Kind, others: readonly DeliverableValue[]): DeliverableValue {
  const alike = others.findLast((other) => other.kind === kind)
  const sidePx = kind === 'loop' ? 1080 : 1600
  const word = { loop: 'loop', 'frame set': 'set', stills: 'still' }[kind]
  return {
    kind,
    name: freeName(word, others),
    frames: kind === 'loop' ? null : (alike?.frames ?? (kind === 'stills' ? 4 : 24)),
    widthPx: alike?.widthPx ?? sidePx,
    heightPx: alike?.heightPx ?? sidePx,
    fpsNum: kind === 'loop' ? 25 : null,
    fpsDen: kind === 'loop' ? 1 : null,
    dropFrame: false,
    fileType: kind === 'loop' ? 'mp4' : 'jpg',
    fileCapBytes: null,
    key: freshKey(),
  }
}

/** The names stand in file names, so that no two may be alike. */
function freeName(word: string, others: readonly DeliverableValue[]): string {
  const taken = new Set(others.map(({ name }) => name))
  let name = word
  for (let n = 2; taken.has(name); n += 1) name = `${word}${n}`
  return name
}
