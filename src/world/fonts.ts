import fs from 'node:fs';
import { CannotRun } from './world.js';

/** The TrueType files of the paper's font and what was asked of them when the tool was built, from a folder of the package. */
export function readFonts(folder: string): { regular: Buffer; semibold: Buffer; bold: Buffer; pairs: Buffer } {
  const read = (name: string): Buffer => {
    try {
      return fs.readFileSync(`${folder}/${name}`);
    } catch {
      throw new CannotRun(`The font file ${name} is missing from the installation (${folder}). Install baywright again.`);
    }
  };
  return { regular: read('400Regular.ttf'), semibold: read('600SemiBold.ttf'), bold: read('700Bold.ttf'), pairs: read('pairs.bin') };
}
