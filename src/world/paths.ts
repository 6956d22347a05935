import path from 'node:path';

/** A path as it is written inside: with forward slashes. @param separator what the system writes between folders */
export const forward = (name: string, separator: string = path.sep): string => (separator === '\\' ? name.replaceAll('\\', '/') : name);

/** Whether a name has one of some endings, in capitals or not: to some systems these are the same. */
export const endsIn = (name: string, endings: readonly string[]): boolean =>
  endings.some((ending) => name.endsWith(ending) || name.slice(-ending.length).toLowerCase() === ending);

/** Whether Windows keeps a name for a device: no file or folder can be called so there, whatever its ending. */
export const isDevice = (name: string): boolean => /^(con|prn|aux|nul|com\d|lpt\d)$/.test(name);
