import path from 'node:path';

/** A path as it is written inside: with forward slashes. @param separator what the system writes between folders */
export const forward = (name: string, separator: string = path.sep): string => (separator === '\\' ? name.replaceAll('\\', '/') : name);
