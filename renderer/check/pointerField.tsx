import { SelectField } from '../parts/field.tsx'

/** Where the pointer stands at the platter, clockwise from the camera, seen from above. */
export const pointerDeg = { camera: 0, left: 90, behind: 180, right: 270 } as const
export type PointerSide = keyof typeof pointerDeg

/** Where the marks are read: a mark at the pointer says where every other one lies. */
export function PointerField(props: {
  readonly value: PointerSide
  readonly onChange: (side: PointerSide) => void
}) {
  return (
    <SelectField
      label="The pointer stands"
      value={props.value}
      options={[
        { value: 'camera', label: 'on the camera’s side' },
        { value: 'left', label: 'at the left of the picture' },
        { value: 'right', label: 'at the right of the picture' },
        { value: 'behind', label: 'behind the platter' },
      ]}
      onChange={props.onChange}
    />
  )
}
