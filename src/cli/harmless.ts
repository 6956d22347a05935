/** A text of the user's files, or a name of one, as a terminal may have it: what would steer it is replaced. */
export const harmless = (text: string): string =>
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is replaced
  text.replace(/\t/g, ' ').replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g, '�');
