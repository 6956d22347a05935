/** What a value of a document may be, as far as its meaning depends on it: made of the schemas when the tool is built. */
export class Form {
  constructor(
    /** What its text measures. */
    readonly quantity: string | undefined,
    /** Of a quantity: it may be below zero. */
    readonly signed: boolean,
    /** Its texts are those of a list. */
    readonly listed: boolean,
    /** Forms by key, in an object that has nothing else. */
    readonly keys: Readonly<Record<string, Form>> | undefined,
    readonly items: Form | undefined,
    /** The form of what stands under a name of the author's. */
    readonly others: Form | undefined,
  ) {}
}
