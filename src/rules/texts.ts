import { isPlaced } from '../schema/origin.js';

/** A text of a document, and where it stands. */
export interface Text {
  readonly holder: object;
  readonly key: string;
  readonly text: string;
}

/** All texts of a document, each with the key or the place in a list that it stands at. */
export function* textsIn(holder: object): Iterable<Text> {
  for (const [key, value] of Object.entries(holder)) {
    if (typeof value === 'string') yield { holder, key, text: value };
    else if (isPlaced(value)) yield* textsIn(value);
  }
}
