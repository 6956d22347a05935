import path from 'node:path';
import { openFaces } from '../../src/emit/pdf/fonts.js';
import { marksOf, type Paper } from '../../src/layout/page.js';
import { readFonts } from '../../src/world/fonts.js';
import { projectFolder } from './shop.js';

export const { measure } = openFaces(readFonts(path.join(projectFolder, 'dist/fonts')));

/** What stands on a paper, in one line. */
export const wordsOn = (paper: Paper): string =>
  paper.pages
    .flatMap((page) => marksOf(page.pieces))
    .flatMap((mark) => (mark.kind === 'text' ? [mark.text] : []))
    .join(' ')
    .replace(/\s+/g, ' ');
