import buffer from 'node:buffer';
import fs from 'node:fs';
import { pause } from './pause.js';
import { tooLarge } from './reason.js';
import type { ReadResult } from './world.js';

/** The engine has no longer texts, characters. */
export const mostInText = buffer.constants.MAX_STRING_LENGTH;

/** How long somebody may take to begin to write into a pipe, ms. */
const patience = 1000;

/**
 * All that others write into a pipe, until they close it.
 * @throws what the system says
 */
export function readPipe(file: string): ReadResult {
  const opened = fs.openSync(file, fs.constants.O_RDONLY | (fs.constants.O_NONBLOCK ?? 0));
  try {
    const room = Buffer.allocUnsafe(1 << 16);
    const pieces: Buffer[] = [];
    let length = 0;
    let isWritten = false;
    for (const giveUp = Date.now() + patience; ; ) {
      const count = readNow(opened, room);
      if (count === 0 && isWritten) return { ok: true, text: Buffer.concat(pieces, length).toString('utf8') };
      if (count === 0 && Date.now() > giveUp) return { ok: false, why: 'it is a pipe, and nobody writes into it' };
      if (count !== 0) isWritten = true;
      if (count === null || count === 0) {
        pause(10);
        continue;
      }
      length += count;
      if (length > mostInText) return { ok: false, why: tooLarge };
      pieces.push(Buffer.from(room.subarray(0, count)));
    }
  } finally {
    fs.closeSync(opened);
  }
}

/** How much there is to read now: 0 where nobody has it open to write, null where somebody has and says nothing yet. */
function readNow(opened: number, room: Buffer): number | null {
  try {
    return fs.readSync(opened, room);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EAGAIN') return null;
    throw error;
  }
}
