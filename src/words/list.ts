/** A list as a sentence has it: `a, b and c`. */
export const listWith =
  (last: string) =>
  (names: readonly string[]): string =>
    names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} ${last} ${names.at(-1)}`;
