// The package has no types of its own: only what the tests use.
declare module 'jstat' {
  const jstat: {
    readonly beta: { inv(share: number, alpha: number, beta: number): number }
    readonly binomial: { cdf(successes: number, trials: number, share: number): number }
  }
  export default jstat
}
