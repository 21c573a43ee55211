import fs from 'node:fs'
import path from 'node:path'
import { type Attachment, attachmentById, attachmentBySha256, attachmentPath } from '../../db/attachments.ts'
import type { Db } from '../../db/open.ts'

/** What is said of the one job that is told in full, with readable copies of its papers. */
export class Telling {
  readonly #db: Db
  readonly #folder: string
  readonly #lines: string[] = []

  constructor(db: Db, folder: string) {
    this.#db = db
    this.#folder = folder
  }

  get lines(): readonly string[] {
    return this.#lines
  }

  say(line: string): void {
    this.#lines.push(line)
  }

  /** Copies a kept paper under its own name into `papers/` of the studio's folder, and says where it lies. */
  paper(of: number | string): void {
    const kept = typeof of === 'number' ? attachmentById(this.#db, of) : attachmentBySha256(this.#db, of)
    if (!kept) throw new Error(`There is no paper ${of}.`)
    this.#lines.push(`  ${this.#copy(kept)}`)
  }

  #copy({ sha256, name }: Attachment): string {
    const papers = path.join(this.#folder, 'papers')
    fs.mkdirSync(papers, { recursive: true })
    const copy = path.join(papers, name.replaceAll(/[/\\]/gu, '-'))
    fs.copyFileSync(attachmentPath(this.#folder, sha256), copy)
    return copy
  }
}
