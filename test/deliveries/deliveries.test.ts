import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { describe, expect, it, onTestFinished, vi } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import { standingOf } from '../../db/standing.ts'
import { readPdf } from '../papers/readPdf.ts'
import { type AtTheBench, atTheBench } from '../takes/aSpin.ts'

/** A job whose spins all have the client's yes. */
async function approved(names: readonly string[] = ['Kettle']): Promise<AtTheBench> {
  const bench = await atTheBench(names.map((name) => ({ name })))
  for (const [index] of names.entries()) await bench.keep(index)
  await bench.api.picks.newest({ shootIds: [...bench.shootIds] })
  const { items } = await bench.api.answers.ofJob({ jobId: bench.jobId })
  await bench.api.answers.answer({ verdict: 'yes', items })
  bench.pass(60_000)
  return bench
}

/** A folder with the named files; each holds its own name. */
function exported(names: readonly string[]): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'turnsheet-export-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  for (const name of names) fs.writeFileSync(path.join(folder, name), name)
  return folder
}

async function readFolder({ api }: AtTheBench, deliveryId: number, folder: string) {
  await api.deliveries.readFolder({ deliveryId, folder })
  return vi.waitFor(async () => {
    const reading = await api.deliveries.reading({ deliveryId })
    if (reading?.state !== 'done') throw new Error(`The reading is ${reading?.state}.`)
    return reading
  })
}

const kettleFiles = [
  'J-2026-001-Kettle_loop.mp4',
  'J-2026-001-Kettle_set_001.jpg',
  'J-2026-001-Kettle_set_002.jpg',
  'J-2026-001-Kettle_set_003.jpg',
  'J-2026-001-Kettle_set_004.jpg',
]

describe('a delivery', () => {
  it('is prepared of all that has the yes, with the files expected of it, once', async () => {
    const { api, jobId } = await approved()
    const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'download link' })
    expect((await api.deliveries.files({ deliveryId })).map(({ name, frame }) => [name, frame])).toEqual(
      kettleFiles.map((name, index) => [name, index === 0 ? null : index * 2 - 1]),
    )
    await expect(api.deliveries.prepare({ jobId, way: 'download link' })).rejects.toMatchObject({
      cause: { code: 'nothing-ready' },
    })
    await api.deliveries.discard({ deliveryId })
    expect((await api.deliveries.ofJob({ jobId })).ready).toHaveLength(2)
  })

  it('can go in parts', async () => {
    const bench = await approved(['Kettle', 'Jug'])
    const { api, jobId, studio } = bench
    const { ready } = await api.deliveries.ofJob({ jobId })
    const { deliveryId } = await api.deliveries.prepare({
      jobId,
      way: 'download link',
      items: ready.slice(0, 2),
    })
    expect(await api.deliveries.send({ deliveryId })).toEqual({ number: 'D-2026-0001' })
    expect(
      studio.db.prepare('SELECT at_delivery, delivered FROM job_standing WHERE job_id = ?').raw().get(jobId),
    ).toEqual([1, 1])
    expect((await api.deliveries.ofJob({ jobId })).ready).toHaveLength(2)
    expect(studio.db.prepare('SELECT * FROM job_standing WHERE job_id = ?').raw().get(jobId)).toEqual(
      standingOf(studio.db, jobId),
    )
  })

  it('reads a folder against its list, and changes nothing there', async () => {
    const bench = await approved()
    const { api, jobId } = bench
    const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'disk by carrier' })
    const folder = exported([...kettleFiles.slice(0, 4), 'test.jpg'])
    const before = fs.statSync(path.join(folder, 'test.jpg')).mtimeMs
    expect(await readFolder(bench, deliveryId, folder)).toMatchObject({
      found: 4,
      missing: [kettleFiles[4]],
      extra: [{ name: 'test.jpg', bytes: 8 }],
      extraCount: 1,
    })
    expect(fs.readdirSync(folder)).toHaveLength(5)
    expect(fs.statSync(path.join(folder, 'test.jpg')).mtimeMs).toBe(before)
    await expect(api.deliveries.send({ deliveryId })).rejects.toMatchObject({
      cause: { code: 'files-missing', canOverrule: true },
    })
    fs.writeFileSync(path.join(folder, String(kettleFiles[4])), 'abc')
    await readFolder(bench, deliveryId, folder)
    const files = await api.deliveries.files({ deliveryId })
    // FIPS 180-4: SHA-256 of 'abc'.
    expect(files[4]).toMatchObject({
      bytes: 3,
      sha256: 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    })
    expect(await api.deliveries.send({ deliveryId })).toEqual({ number: 'D-2026-0001' })
  })

  it('keeps its file list and its note with it', async () => {
    const bench = await approved()
    const { api, jobId, studio } = bench
    const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'download link', note: 'With thanks.' })
    await readFolder(bench, deliveryId, exported(kettleFiles))
    await api.deliveries.send({ deliveryId })
    const { delivery } = await api.deliveries.one({ deliveryId })
    const bytesOf = (id: number | null) => {
      const kept = attachmentById(studio.db, Number(id))
      return fs.readFileSync(attachmentPath(studio.folder, String(kept?.sha256)))
    }
    const list = bytesOf(delivery.listId).toString('utf8').split('\r\n')
    expect(list[0]).toBe('\uFEFFFile,Spin,Deliverable,Frame of the take,Bytes,SHA-256,Rights of use')
    expect(list[2]).toMatch(/^J-2026-001-Kettle_set_001\.jpg,Kettle,set,1,29,[0-9a-f]{64},$/)
    expect(list).toHaveLength(kettleFiles.length + 2)
    const { pages, title } = await readPdf(bytesOf(delivery.notePaperId))
    expect(title).toBe('Delivery note D-2026-0001')
    expect(pages.join(' ')).toContain('With thanks.')
    expect(pages.join(' ')).toMatch(/Files in all\s+5/)
  })

  it('stays as it was once it is sent, whoever writes to the store', async () => {
    const { api, jobId, studio } = await approved()
    const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'download link' })
    await api.deliveries.send({ deliveryId })
    await expect(api.deliveries.send({ deliveryId })).rejects.toMatchObject({
      cause: {
        code: 'delivery-sent',
        message: 'D-2026-0001 was sent and stays as it was. Prepare another delivery.',
      },
    })
    for (const change of [
      'UPDATE delivery SET number = NULL, sent_at = NULL',
      'DELETE FROM delivery_item',
      'DELETE FROM delivery_file',
      "UPDATE delivery_file SET name = 'other.jpg' WHERE frame = 1",
      'DELETE FROM delivery',
    ]) {
      expect(() => studio.db.exec(change)).toThrow('a delivery that was sent stays as it was')
    }
  })

  it('waits for the payment where the client gets files only afterwards, unless there is a reason', async () => {
    const { api, jobId, studio } = await approved()
    studio.db.exec('UPDATE client SET files_after_payment = 1')
    const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'download link' })
    await expect(api.deliveries.send({ deliveryId })).rejects.toMatchObject({
      cause: { code: 'files-after-payment', canOverrule: true },
    })
    expect(
      await api.deliveries.send({ deliveryId, overruleReason: 'paid in cash, the book follows' }),
    ).toEqual({
      number: 'D-2026-0001',
    })
  })

  it('does not go with a yes that was taken back', async () => {
    const { api, jobId } = await approved()
    const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'download link' })
    const { items } = await api.answers.ofJob({ jobId })
    await api.answers.withdraw({ answerId: Number(items[0]?.answer?.id) })
    await expect(api.deliveries.send({ deliveryId })).rejects.toMatchObject({ cause: { code: 'yes-gone' } })
  })

  it('no longer counts once the client wants a change of what it carried', async () => {
    const bench = await approved()
    const { api, jobId } = bench
    const { deliveryId } = await api.deliveries.prepare({ jobId, way: 'download link' })
    await api.deliveries.send({ deliveryId })
    bench.pass(3_600_000)
    const { items } = await api.answers.ofJob({ jobId })
    expect(items.map(({ state, deliveryNumber }) => [state, deliveryNumber])).toEqual([
      ['delivered', 'D-2026-0001'],
      ['delivered', 'D-2026-0001'],
    ])
    await api.answers.answer({
      verdict: 'change',
      items: items.slice(0, 1),
      needs: 'rework',
      cause: "client's wish",
    })
    expect((await api.answers.ofJob({ jobId })).items.map(({ state }) => state)).toEqual([
      'change wanted',
      'delivered',
    ])
    expect(
      bench.studio.db.prepare('SELECT station FROM job_standing WHERE job_id = ?').pluck().get(jobId),
    ).not.toBe('invoice')
  })
})
