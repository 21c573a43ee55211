import type { ReactNode } from 'react'
import css from './page.module.css'

/** A screen: its heading, a line under it, its acts, its contents. */
export function Page(props: {
  readonly title: string
  /** What the window is called where one heading stands over several pages; the heading where it is left out. */
  readonly windowTitle?: string | undefined
  readonly lead?: ReactNode
  readonly acts?: ReactNode
  readonly children: ReactNode
}) {
  return (
    <div className={css.page}>
      <title>{`${props.windowTitle ?? props.title} · Turnsheet`}</title>
      <header className={css.head}>
        <div className={css.title}>
          <h1>{props.title}</h1>
          {props.lead ? <p className={css.lead}>{props.lead}</p> : null}
        </div>
        {props.acts}
      </header>
      {props.children}
    </div>
  )
}

/** A part of a screen under its own rule and heading. */
export function Part(props: {
  readonly title: string
  readonly acts?: ReactNode
  readonly children: ReactNode
}) {
  return (
    <section className={css.part} aria-label={props.title}>
      <header>
        <h2>{props.title}</h2>
        {props.acts}
      </header>
      {props.children}
    </section>
  )
}

/** Two columns side by side, or a wide one and an aside of 336 px; one under the other where it is narrow. */
export function Columns(props: { readonly aside?: boolean; readonly children: ReactNode }) {
  return <div className={props.aside ? `${css.columns} ${css.aside}` : css.columns}>{props.children}</div>
}

/** A sheet of facts: label left, value right of it. */
export function Sheet(props: {
  /** Right-aligns the values, where all of them are numbers. */
  readonly figures?: boolean
  readonly children: ReactNode
}) {
  return <dl className={props.figures ? `${css.sheet} ${css.figures}` : css.sheet}>{props.children}</dl>
}

/** One fact of a sheet. */
export function Fact(props: { readonly label: string; readonly children: ReactNode }) {
  return (
    <div>
      <dt>{props.label}</dt>
      <dd>{props.children}</dd>
    </div>
  )
}

/** Nothing here yet: says so, and what to do first. */
export function Empty(props: { readonly sentence: ReactNode; readonly act?: ReactNode }) {
  return (
    <div className={css.empty}>
      <p>{props.sentence}</p>
      {props.act}
    </div>
  )
}

/** Holds the place of what has not come yet. */
export function Waiting() {
  return (
    <div className={css.waiting} aria-busy="true">
      <p>Reading</p>
    </div>
  )
}
