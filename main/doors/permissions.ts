import { session } from 'electron'
import { isOwnAddress } from './scheme.ts'

/**
 * Denies the page every permission but one: putting text on the clipboard, which its copy buttons need and
 * which reads nothing.
 */
export function denyPermissions(): void {
  const allowed = (permission: string, origin: string) =>
    permission === 'clipboard-sanitized-write' && isOwnAddress(origin)
  const { defaultSession } = session
  defaultSession.setPermissionCheckHandler((_contents, permission, origin) => allowed(permission, origin))
  defaultSession.setPermissionRequestHandler((_contents, permission, answer, details) =>
    answer(allowed(permission, details.requestingUrl)),
  )
  defaultSession.setDevicePermissionHandler(() => false)
}
