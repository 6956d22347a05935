import fs from 'node:fs';
import { isNoAnswer, reason } from './reason.js';
import { CannotRun } from './world.js';

/** A file of a face, whole and as it was prepared when the tool was built. */
interface FontFile {
  readonly prepared: Buffer;
  readonly whole: () => Buffer;
}

/** The faces of the paper, from a folder of the package. */
export function readFonts(folder: string): { readonly regular: FontFile; readonly semibold: FontFile; readonly bold: FontFile } {
  const read = (name: string): Buffer => {
    try {
      return fs.readFileSync(`${folder}/${name}`);
    } catch (error) {
      if (isNoAnswer(error)) throw new CannotRun(`The font file ${name} cannot be read: ${reason(error)}. Run this again.`);
      throw new CannotRun(`The font file ${name} is missing from the installation (${folder}). Install baywright again.`);
    }
  };
  const face = (name: string): FontFile => ({ prepared: read(`${name}.prepared`), whole: () => read(`${name}.ttf`) });
  return { regular: face('400Regular'), semibold: face('600SemiBold'), bold: face('700Bold') };
}
