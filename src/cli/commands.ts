/** What a command needs beyond the prompt, loaded when it is asked for: `--version` and an unchanged library need none of it. */
export { build } from './commands/build.js';
export { editor } from './commands/editor.js';
export { explain } from './commands/explain.js';
export { explainValue } from './commands/explain-value.js';
export { newDocument } from './commands/new.js';
export { merge } from './commands/merge.js';
export { checkFresh, checkShare } from './fresh.js';
export { shareOf } from './share.js';
export { sarifReporter } from './reporters/sarif.js';
export { watchLibrary } from './watch.js';
