import fs from 'node:fs';
import { CannotRun } from './world.js';

/** The TrueType files of the paper's font, from a folder of the package. */
export function readFonts(folder: string): { regular: Buffer; semibold: Buffer; bold: Buffer } {
  const read = (face: string): Buffer => {
    try {
      return fs.readFileSync(`${folder}/${face}.ttf`);
    } catch {
      throw new CannotRun(`The font ${face} is missing from the installation (${folder}). Install baywright again.`);
    }
  };
  return { regular: read('400Regular'), semibold: read('600SemiBold'), bold: read('700Bold') };
}
