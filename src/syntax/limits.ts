/**
 * Input is hostile until checked: a file beyond these limits is refused, with a finding; a text beyond its limit is told
 * and left out. Of more mistakes of a kind than `mistakes` the first are told; and so much text, `explained`, is read a
 * second time to say what is wrong with it.
 */
export const limits = {
  bytes: 2_000_000,
  depth: 40,
  nodes: 200_000,
  aliases: 100,
  key: 1024,
  text: 5000,
  mistakes: 5000,
  explained: 200_000,
} as const;

export const isTooLong = (text: string): boolean => text.length > limits.text;
