import css from './planner.module.css'

/** Said where a part has something wrong in it and keeps the figures it had. */
export function Standing({ when }: { readonly when: boolean }) {
  return when ? (
    <p className={css.note} role="status">
      These figures stand as they last could be worked out.
    </p>
  ) : null
}
