import fs from 'node:fs';
import os from 'node:os';
import { pause } from '../world/pause.js';

/** Standard output or standard error: takes text at once, and says whether it is a terminal. */
export interface Output {
  write(text: string): void;
  readonly isTerminal: boolean;
}

type Stream = 'stdout' | 'stderr';
const numbers: Readonly<Record<Stream, number>> = { stdout: 1, stderr: 2 };

/**
 * Files, pipes and the null device are written to directly: Node's own streams take a twentieth of the time of a bare start.
 * Windows has its own ways with them, so there, and on a terminal, Node writes.
 * @param failed told what the system says, where nothing can be written any more
 */
export function outputTo(name: Stream, failed: (error: NodeJS.ErrnoException) => void): Output {
  if (isDirect(numbers[name])) return { write: (text) => writeAll(numbers[name], text, failed), isTerminal: false };
  const stream = process[name];
  stream.on('error', failed);
  return { write: (text) => void stream.write(text), isTerminal: stream.isTTY === true };
}

function isDirect(number: number): boolean {
  if (process.platform === 'win32') return false;
  try {
    const stat = fs.fstatSync(number);
    return stat.isFile() || stat.isFIFO() || stat.isSocket() || (stat.isCharacterDevice() && stat.rdev === fs.statSync(os.devNull).rdev);
  } catch {
    return false;
  }
}

function writeAll(number: number, text: string, failed: (error: NodeJS.ErrnoException) => void): void {
  const bytes = Buffer.from(text);
  for (let at = 0; at < bytes.length; ) {
    try {
      at += fs.writeSync(number, bytes, at);
    } catch (error) {
      // A pipe that is full, and that whoever made it does not wait for: we do.
      const refused = error as NodeJS.ErrnoException;
      if (refused.code !== 'EAGAIN') {
        failed(refused);
        return;
      }
      pause(2);
    }
  }
}
