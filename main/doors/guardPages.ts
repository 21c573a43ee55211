/** Shown where no session is open: says what to do, holds nothing of the studio. */
export const signedOutPage = plainPage(
  'This browser is not let in yet',
  `<p>Open the whole address that Turnsheet printed when it started; it ends in <code>?key=…</code> and works
  once, for one browser.</p>
  <p>Has it been used already, or was Turnsheet started again? Then ask for a new address: start Turnsheet
  again, or choose <b>Open the browser door</b> in the File menu of its window.</p>`,
)

/** Shown where the request came by a foreign name or from a foreign page. */
export const foreignPage = plainPage(
  'Turnsheet does not answer here',
  `<p>This request did not come from Turnsheet’s own page on this computer. Open the address that Turnsheet
  printed when it started.</p>`,
)

function plainPage(title: string, body: string): string {
  return `<!doctype html>
<html lang="en-GB">
<head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${title}</title></head>
<body><h1>${title}</h1>${body}</body>
</html>
`
}
