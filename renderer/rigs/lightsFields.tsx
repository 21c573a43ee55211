import { lightLetter } from '../../main/trade/rigDrawing/drawnRig.ts'
import { Button } from '../parts/button.tsx'
import { TextField } from '../parts/field.tsx'
import { LengthField, NumberField } from '../parts/figureFields.tsx'
import { EquipmentField } from './equipmentField.tsx'
import css from './lightsFields.module.css'
import { type LightValue, newLight } from './rigValue.ts'

/** The lights of a rig, each a few lines, lettered as on the drawing. */
export function LightsFields(props: {
  readonly lights: readonly LightValue[]
  readonly onChange: (lights: readonly LightValue[]) => void
}) {
  const { lights, onChange } = props
  return (
    <>
      <ol className={css.lights}>
        {lights.map((light, index) => (
          <li key={light.key} className={css.light} aria-label={`Light ${lightLetter(index)}`}>
            <span className={css.letter}>{lightLetter(index)}</span>
            <LightFields
              light={light}
              index={index}
              onChange={(next) => onChange(lights.with(index, next))}
            />
            <Button
              kind="quiet"
              aria-label={`Take away light ${lightLetter(index)}`}
              onClick={() => onChange(lights.toSpliced(index, 1))}
            >
              Take away
            </Button>
          </li>
        ))}
      </ol>
      <div>
        <Button onClick={() => onChange([...lights, newLight()])}>Add a light</Button>
      </div>
    </>
  )
}

function LightFields(props: {
  readonly light: LightValue
  readonly index: number
  readonly onChange: (light: LightValue) => void
}) {
  const { light, index } = props
  const set =
    <K extends keyof LightValue>(key: K) =>
    (value: LightValue[K]) =>
      props.onChange({ ...light, [key]: value })
  const name = (field: string) => `lights.${index}.${field}`
  return (
    <div className={css.fields}>
      <TextField label="Light" name={name('kind')} value={light.kind} onChange={set('kind')} />
      <TextField label="Modifier" name={name('modifier')} value={light.modifier} onChange={set('modifier')} />
      <EquipmentField
        label="From the equipment"
        kind="light"
        value={light.equipmentId}
        onChange={set('equipmentId')}
      />
      <NumberField
        label="Bearing"
        unit="°"
        places={3}
        name={name('bearingDeg')}
        value={light.bearingMdeg}
        onChange={set('bearingMdeg')}
      />
      <LengthField
        kept="um"
        label="Distance"
        name={name('distanceMm')}
        value={light.distanceUm}
        onChange={set('distanceUm')}
      />
      <LengthField
        kept="um"
        label="Height"
        name={name('heightMm')}
        value={light.heightUm}
        onChange={set('heightUm')}
      />
      <NumberField
        label="Elevation"
        unit="°"
        places={3}
        name={name('elevationDeg')}
        value={light.elevationMdeg}
        onChange={set('elevationMdeg')}
      />
      <TextField
        label="Power"
        width="narrow"
        name={name('power')}
        value={light.power}
        onChange={set('power')}
      />
      <NumberField
        label="Colour"
        unit="K"
        name={name('colourTemperatureK')}
        value={light.colourTemperatureK}
        onChange={set('colourTemperatureK')}
      />
    </div>
  )
}
