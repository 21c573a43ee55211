/**
 * What the page may load and do: files of its own origin alone, no inline script, no frame around it.
 * Pictures may also come from memory (`blob:`, `data:`), for previews of files not yet kept.
 */
export const contentSecurityPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' data: blob:",
  "font-src 'self'",
  "connect-src 'self'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ')

/** The headers that every answer carries, whichever door it leaves by. */
export const securityHeaders: Readonly<Record<string, string>> = {
  'content-security-policy': contentSecurityPolicy,
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  // The camera reads tickets; the browser still asks the person.
  'permissions-policy': 'camera=(self), microphone=(), geolocation=(), usb=(), serial=(), hid=(), payment=()',
}
