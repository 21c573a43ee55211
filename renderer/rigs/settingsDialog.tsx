import type { Answers, Asks } from '../../main/api/types.ts'
import { kept, shown } from '../../main/trade/measures.ts'
import { closesForEachFrame } from '../../main/trade/settings.ts'
import { Button, ButtonRow } from '../parts/button.tsx'
import { Dialog } from '../parts/dialog.tsx'
import { useDraft } from '../parts/draft.ts'
import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldLine, Form } from '../parts/form.tsx'
import { api, useAct } from '../shell/api.ts'
import { emptyRow, SettingsRows } from './settingsRows.tsx'

type Held = Asks['settings']['add']['apertureHeld']
export type WholeSettings = Answers['settings']['one']

const holds: readonly { readonly value: Held; readonly label: string }[] = [
  { value: 'ring', label: 'By the lens’s own ring' },
  { value: 'held', label: 'Held closed on the unlatched lens' },
  { value: 'wide open', label: 'Wide open, so never closed' },
  { value: 'each frame', label: 'Closed anew for each frame' },
]

/** What is dialled before anything is written down. */
const plainSettings = {
  focusUm: null as number | null,
  apertureCenti: 1100 as number | null,
  apertureHeld: 'each frame' as Held,
  shutterNum: 1 as number | null,
  shutterDen: 125 as number | null,
  iso: 100 as number | null,
  whiteBalanceK: null as number | null,
  cropXPpm: 0 as number | null,
  cropYPpm: 0 as number | null,
  cropWidthPpm: 1_000_000 as number | null,
  cropHeightPpm: 1_000_000 as number | null,
  development: '',
  note: '',
}

/** Where the dialog starts: as settings that are there, or plainly; with the frames of the spin where it is for one. */
function startOf(from: WholeSettings | undefined, rows: WholeSettings['rows'] | undefined) {
  if (!from) return { ...plainSettings, rows: rows ? kept(rows) : [emptyRow] }
  const { id: _, rigId: __, createdAt: ___, ...dialled } = kept(from)
  return {
    ...dialled,
    rows: rows ? kept(rows) : dialled.rows,
    development: dialled.development ?? '',
    note: dialled.note ?? '',
  }
}

/** Writes down settings: what is dialled. They are kept for good; another value makes new ones. */
export function SettingsDialog(props: {
  /** The rig they are written beside. */
  readonly rigId?: number | undefined
  /** Settings to start from, of which some value is to be another. */
  readonly from?: WholeSettings | undefined
  /** Frames to start from: those of the spin that is planned. */
  readonly rows?: readonly Pick<
    WholeSettings['rows'][number],
    'viewAngleDeg' | 'framesPerTurn' | 'overlapFrames'
  >[]
  readonly onKept: (settingsId: number) => void
  readonly onClose: () => void
}) {
  const rows = props.rows?.map((row) => ({ ...row, cameraDistanceMm: null, cameraHeightMm: null }))
  const { values, set } = useDraft(startOf(props.from, rows))
  const save = useAct(
    // Empty figures go as they are; the studio says what it cannot do without.
    () =>
      api.settings.add.mutate({
        ...shown(values),
        rigId: props.rigId ?? null,
      } as unknown as Asks['settings']['add']),
    ({ settingsId }) => props.onKept(settingsId),
  )
  return (
    <Dialog title="New settings" onClose={props.onClose} wide>
      <Form refusal={save.refusal} onSubmit={() => save.run()}>
        <SettingsRows rows={values.rows} onChange={set('rows')} />
        <FieldLine>
          <NumberField
            label="Aperture, f/"
            places={2}
            name="apertureCenti"
            value={values.apertureCenti}
            onChange={set('apertureCenti')}
          />
          <SelectField
            label="How the aperture is held"
            name="apertureHeld"
            value={values.apertureHeld}
            options={holds}
            onChange={set('apertureHeld')}
          />
        </FieldLine>
        {closesForEachFrame(values) ? (
          <p>
            A lens that closes anew for every frame varies a little from frame to frame; watch for flicker.
          </p>
        ) : null}
        {values.apertureHeld === 'held' ? (
          <p>
            An unlatched lens is held by nothing: it can turn off the mount and fall. Hold it while you do it,
            and latch it before the camera is moved. The lens maker’s instructions come first.
          </p>
        ) : null}
        <FieldLine>
          <NumberField
            label="Shutter"
            name="shutterNum"
            value={values.shutterNum}
            onChange={set('shutterNum')}
          />
          <NumberField
            label="divided by"
            unit="s"
            name="shutterDen"
            value={values.shutterDen}
            onChange={set('shutterDen')}
          />
          <NumberField label="ISO" name="iso" value={values.iso} onChange={set('iso')} />
          <NumberField
            label="White balance"
            unit="K"
            name="whiteBalanceK"
            value={values.whiteBalanceK}
            onChange={set('whiteBalanceK')}
          />
          <LengthField
            kept="um"
            label="Focus at"
            hint="From the lens."
            name="focusMm"
            value={values.focusUm}
            onChange={set('focusUm')}
          />
        </FieldLine>
        <FieldLine>
          {crops.map(([key, label]) => (
            <NumberField
              key={key}
              label={label}
              unit="%"
              places={4}
              name={key}
              value={values[key]}
              onChange={set(key)}
            />
          ))}
        </FieldLine>
        <TextField
          label="Development"
          name="development"
          hint="The recipe in the raw converter."
          value={values.development}
          onChange={set('development')}
        />
        <TextArea label="Note" name="note" rows={2} value={values.note} onChange={set('note')} />
        <ButtonRow>
          <Button type="submit" kind="main" busy={save.busy}>
            Keep these settings
          </Button>
          <Button onClick={props.onClose}>Leave it</Button>
        </ButtonRow>
      </Form>
    </Dialog>
  )
}

const crops = [
  ['cropXPpm', 'Crop, from the left'],
  ['cropYPpm', 'from the top'],
  ['cropWidthPpm', 'its width'],
  ['cropHeightPpm', 'its height'],
] as const
