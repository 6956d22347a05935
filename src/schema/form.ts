import type { Extent } from '../quantity/extent.js';

/** Where in a value of a document figures are, and what they measure: made of the schemas when the tool is built. */
export class Form {
  constructor(
    /** What its text measures. */
    readonly quantity: string | undefined,
    /** Of a quantity: it may be below zero. */
    readonly signed: boolean,
    /** Of a quantity: what it may be where it stands. */
    readonly extent: Extent | undefined,
    /** By key, of those that have figures in them. */
    readonly keys: Readonly<Record<string, Form>> | undefined,
    readonly items: Form | undefined,
    /** That of what stands under a name of the author's. */
    readonly others: Form | undefined,
  ) {}
}
