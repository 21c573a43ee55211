import { describe, expect, it } from 'vitest'
import { nodeIsTooOld } from '../../main/doors/nodeVersion.ts'

describe('the Node the program runs on', () => {
  it('is refused in words where the SQLite binding would crash it', () => {
    expect(nodeIsTooOld('20.20.2')).toContain('needs Node 22 or newer, and this is 20.20.2')
    expect(nodeIsTooOld('22.0.0')).toBeUndefined()
    expect(nodeIsTooOld('24.21.0')).toBeUndefined()
  })
})
