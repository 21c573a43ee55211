import { SelectField, TextArea, TextField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { FieldGroup, FieldLine } from '../parts/form.tsx'
import { um10Text } from '../parts/format.ts'
import { EquipmentField } from './equipmentField.tsx'
import { LightsFields } from './lightsFields.tsx'
import type { RevisionValue } from './rigValue.ts'
import { usePlatters } from './usePlatters.ts'

interface RevisionFieldsProps {
  readonly value: RevisionValue
  readonly onChange: (value: RevisionValue) => void
}

/** What stands, figure by figure, as the person at the next set-up would need it. */
export function RevisionFields({ value, onChange }: RevisionFieldsProps) {
  const set =
    <K extends keyof RevisionValue>(key: K) =>
    (next: RevisionValue[K]) =>
      onChange({ ...value, [key]: next })
  const platters = usePlatters()
  return (
    <>
      <FieldGroup legend="Platter and backdrop">
        <FieldLine>
          <SelectField
            label="Platter"
            name="platterId"
            value={value.platterId === null ? '' : String(value.platterId)}
            options={platters.map(({ id, name, rimMm }) => ({
              value: String(id),
              label: `${name}, rim ${um10Text(Math.round(rimMm * 10_000))}`,
            }))}
            onChange={(id) => set('platterId')(Number(id))}
            hint={
              platters.length === 0 ? 'No platter is in the studio yet. Add one under Platters.' : undefined
            }
          />
          <TextField label="Backdrop" name="backdrop" value={value.backdrop} onChange={set('backdrop')} />
          <EquipmentField
            label="Backdrop from the equipment"
            kind="backdrop"
            value={value.backdropEquipmentId}
            onChange={set('backdropEquipmentId')}
          />
        </FieldLine>
      </FieldGroup>
      <CameraFields value={value} onChange={onChange} />
      <FieldGroup legend="The product it is built round">
        <FieldLine>
          <LengthField
            kept="um"
            label="Swept width"
            name="productSweptMm"
            value={value.productSweptUm}
            onChange={set('productSweptUm')}
          />
          <LengthField
            kept="um"
            label="Height"
            name="productHeightMm"
            value={value.productHeightUm}
            onChange={set('productHeightUm')}
          />
        </FieldLine>
      </FieldGroup>
      <FieldGroup legend="Lights, from the platter’s axis">
        <LightsFields lights={value.lights} onChange={set('lights')} />
      </FieldGroup>
      <FieldGroup legend="Besides">
        <TextField label="Flags" name="flags" width="wide" value={value.flags} onChange={set('flags')} />
        <TextArea label="Note" name="revision.note" rows={2} value={value.note} onChange={set('note')} />
      </FieldGroup>
    </>
  )
}

function CameraFields({ value, onChange }: RevisionFieldsProps) {
  const set =
    <K extends keyof RevisionValue>(key: K) =>
    (next: RevisionValue[K]) =>
      onChange({ ...value, [key]: next })
  return (
    <FieldGroup legend="Camera and lens">
      <FieldLine>
        <TextField label="Camera" name="camera" value={value.camera} onChange={set('camera')} />
        <EquipmentField
          label="Camera from the equipment"
          kind="camera"
          value={value.cameraEquipmentId}
          onChange={set('cameraEquipmentId')}
        />
      </FieldLine>
      <FieldLine>
        <LengthField
          kept="um"
          label="Sensor width"
          name="sensorWidthMm"
          value={value.sensorWidthUm}
          onChange={set('sensorWidthUm')}
        />
        <LengthField
          kept="um"
          label="Sensor height"
          name="sensorHeightMm"
          value={value.sensorHeightUm}
          onChange={set('sensorHeightUm')}
        />
        <NumberField
          label="Pixels across"
          unit="px"
          name="sensorWidthPx"
          value={value.sensorWidthPx}
          onChange={set('sensorWidthPx')}
        />
        <NumberField
          label="Pixels down"
          unit="px"
          name="sensorHeightPx"
          value={value.sensorHeightPx}
          onChange={set('sensorHeightPx')}
        />
      </FieldLine>
      <FieldLine>
        <TextField label="Lens" name="lens" value={value.lens} onChange={set('lens')} />
        <EquipmentField
          label="Lens from the equipment"
          kind="lens"
          value={value.lensEquipmentId}
          onChange={set('lensEquipmentId')}
        />
        <LengthField
          kept="um"
          label="Focal length"
          name="focalMm"
          value={value.focalUm}
          onChange={set('focalUm')}
        />
        <NumberField
          label="Opens to f/"
          places={2}
          name="widestCenti"
          value={value.widestCenti}
          onChange={set('widestCenti')}
        />
        <NumberField
          label="Closes to f/"
          places={2}
          name="smallestCenti"
          value={value.smallestCenti}
          onChange={set('smallestCenti')}
        />
      </FieldLine>
      <FieldLine>
        <LengthField
          kept="um"
          label="Distance to the axis"
          name="cameraDistanceMm"
          value={value.cameraDistanceUm}
          onChange={set('cameraDistanceUm')}
        />
        <LengthField
          kept="um"
          label="Height over the platter"
          name="cameraHeightMm"
          value={value.cameraHeightUm}
          onChange={set('cameraHeightUm')}
        />
        <NumberField
          label="Tilt down"
          unit="°"
          places={3}
          name="cameraTiltDeg"
          value={value.cameraTiltMdeg}
          onChange={set('cameraTiltMdeg')}
        />
      </FieldLine>
    </FieldGroup>
  )
}
