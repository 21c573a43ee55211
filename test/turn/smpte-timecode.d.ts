declare module 'smpte-timecode' {
  /** The parts of smpte-timecode 1.3.6 that the checks use; the package brings no types. */
  interface Label {
    readonly frameCount: number
    toString(): string
  }
  export default function Timecode(frameOrLabel: number | string, rate: number, dropFrame?: boolean): Label
}
