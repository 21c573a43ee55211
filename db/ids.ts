declare const table: unique symbol

/** A row's number, branded with its table so that a rig's number is never taken for a take's. */
export type Id<T extends string> = number & { readonly [table]: T }
