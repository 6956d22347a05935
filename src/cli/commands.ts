/** All commands but `check`, loaded when one is asked for. */
export { build } from './commands/build.js';
export { editor } from './commands/editor.js';
export { explain } from './commands/explain.js';
export { explainValue } from './commands/explain-value.js';
export { newDocument } from './commands/new.js';
export { merge } from './commands/merge.js';
export { watchLibrary } from './watch.js';
