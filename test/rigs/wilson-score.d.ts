// The package has no types of its own: only what the tests use.
declare module 'wilson-score' {
  /** The lower bound of the Wilson score interval of `up` of `total`, at `z` standard deviations. */
  export default function wilsonScore(up: number, total: number, z: number): number
}
