/** How the suites report; `TEST_RESULTS` names a file for a machine to read beside the lines for people. */
export const reporters: (string | [string, { outputFile: string }])[] = process.env.TEST_RESULTS
  ? ['default', ['json', { outputFile: process.env.TEST_RESULTS }]]
  : ['default']
