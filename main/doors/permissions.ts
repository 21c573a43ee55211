import { session } from 'electron'
import { isOwnAddress } from './scheme.ts'

/**
 * Denies the page every permission but two: putting text on the clipboard, which its copy buttons need and which
 * reads nothing, and the camera without its microphone, which reads tickets. Both for our own window's page alone,
 * never for a frame within it.
 */
export function denyPermissions(): void {
  const { defaultSession } = session
  defaultSession.setPermissionCheckHandler((_contents, permission, origin, details) => {
    if (!isOwnAddress(origin) || details.isMainFrame === false) return false
    return (
      permission === 'clipboard-sanitized-write' || (permission === 'media' && details.mediaType !== 'audio')
    )
  })
  defaultSession.setPermissionRequestHandler((_contents, permission, answer, details) => {
    const isOurs = isOwnAddress(details.requestingUrl) && details.isMainFrame
    const media = 'mediaTypes' in details ? (details.mediaTypes ?? []) : []
    const isCamera = permission === 'media' && media.length > 0 && media.every((type) => type === 'video')
    answer(isOurs && (permission === 'clipboard-sanitized-write' || isCamera))
  })
  defaultSession.setDevicePermissionHandler(() => false)
}
