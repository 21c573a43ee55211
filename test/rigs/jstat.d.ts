// The package has no types of its own: only what the tests use.
declare module 'jstat' {
  const jstat: { readonly beta: { inv(share: number, alpha: number, beta: number): number } }
  export default jstat
}
