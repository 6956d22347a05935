/** Loaded when a file cannot be read, and not before: most runs never need it. */
export { parseDocument, visit } from 'yaml';
