import { lookingText } from '../../main/trade/looking.ts'
import { lightLetter } from '../../main/trade/rigDrawing/drawnRig.ts'
import { apertureText } from '../../main/trade/settings.ts'
import { massText, numberText, withUnit } from '../parts/format.ts'
import { Fact, Sheet } from '../parts/page.tsx'
import type { Revision } from './rigValue.ts'

/** The figures of a revision, as one would read them out while building it. */
export function RevisionFigures({ revision }: { readonly revision: Revision }) {
  return (
    <Sheet>
      <Fact label="Platter">{revision.platterName}</Fact>
      <Fact label="Rim">{withUnit(revision.rimMm, 'mm', 4)}</Fact>
      <Fact label="Division">{withUnit(revision.divisionMm, 'mm', 4)}</Fact>
      {revision.surface ? <Fact label="Surface">{revision.surface}</Fact> : null}
      {revision.loadLimitG === null ? null : <Fact label="Load limit">{massText(revision.loadLimitG)}</Fact>}
      <Fact label="Backdrop">{revision.backdrop}</Fact>
      <Fact label="Camera">{revision.camera}</Fact>
      {revision.sensorWidthMm !== null && revision.sensorHeightMm !== null ? (
        <Fact label="Sensor">
          {[
            `${numberText(revision.sensorWidthMm)} × ${withUnit(revision.sensorHeightMm, 'mm')}`,
            revision.sensorWidthPx !== null &&
              revision.sensorHeightPx !== null &&
              `${numberText(revision.sensorWidthPx, 0)} × ${withUnit(revision.sensorHeightPx, 'px', 0)}`,
          ]
            .filter(Boolean)
            .join(', ')}
        </Fact>
      ) : null}
      <Fact label="Lens">{`${revision.lens}, ${withUnit(revision.focalMm, 'mm')}`}</Fact>
      {revision.widestCenti === null ? null : (
        <Fact label="Opens to">{apertureText(revision.widestCenti)}</Fact>
      )}
      {revision.smallestCenti === null ? null : (
        <Fact label="Closes to">{apertureText(revision.smallestCenti)}</Fact>
      )}
      <Fact label="Camera distance">{withUnit(revision.cameraDistanceMm, 'mm', 3)}</Fact>
      <Fact label="Camera height">{withUnit(revision.cameraHeightMm, 'mm', 3)}</Fact>
      <Fact label="Camera tilt">{lookingText(revision.cameraTiltDeg)}</Fact>
      {revision.lights.map((light, index) => (
        <Fact key={light.position} label={`Light ${lightLetter(index)}`}>
          {[
            light.kind,
            light.modifier,
            `${numberText(light.bearingDeg)}° at ${withUnit(light.distanceMm, 'mm', 0)}`,
            `${withUnit(light.heightMm, 'mm', 0)} high`,
            light.elevationDeg !== 0 && `falling ${lookingText(light.elevationDeg)}`,
            light.power,
            light.colourTemperatureK !== null && withUnit(light.colourTemperatureK, 'K'),
          ]
            .filter(Boolean)
            .join(', ')}
        </Fact>
      ))}
      {revision.productSweptMm !== null && revision.productHeightMm !== null ? (
        <Fact label="Built round">
          {`a product ${withUnit(revision.productSweptMm, 'mm', 0)} wide as it turns, ${withUnit(revision.productHeightMm, 'mm', 0)} high`}
        </Fact>
      ) : null}
      {revision.flags ? <Fact label="Flags">{revision.flags}</Fact> : null}
      {revision.note ? <Fact label="Note">{revision.note}</Fact> : null}
    </Sheet>
  )
}
