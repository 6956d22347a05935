/** All commands but `check` and `build`, and what compiles for that, loaded when one is asked for. */
export { compileNamed } from './compiling.js';
export { editor } from './commands/editor.js';
export { explain } from './commands/explain.js';
export { explainValue } from './commands/explain-value.js';
export { newDocument } from './commands/new.js';
export { merge } from './commands/merge.js';
export { watchLibrary } from './watch.js';
export { recordFor } from './record.js';
