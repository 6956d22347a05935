/** What only `build` needs, loaded when there is a job to print. */
export { outputsOf } from '../emit/outputs.js';
export { openFaces } from '../emit/pdf/fonts.js';
