import crypto from 'node:crypto';
import fs from 'node:fs';
import os from 'node:os';

// Who is at something in a folder that several runs may write to, also from other machines or out of containers: there
// the numbers of processes begin anew, and those of others cannot be asked for.

let known: string | undefined;

/** This machine, or this container on it. */
function machine(): string {
  if (known === undefined) {
    let numbers = '';
    try {
      numbers = fs.readlinkSync('/proc/self/ns/pid');
    } catch {
      // Only Linux counts its processes in several rows.
    }
    known = crypto.createHash('sha256').update(`${os.hostname()} ${numbers}`).digest('hex').slice(0, 8);
  }
  return known;
}

/** The name of this run among all that may write to the same folder: `3f2a91c0-4711`. */
export const thisRun = (): string => `${machine()}-${process.pid}`;

/** No run is at anything for so long, ms: the number of one that was killed has gone to another program. */
const tooOld = 3_600_000;

/** What a run on another machine has not touched for so long, ms, it was killed at: a set of files takes a second. */
const outOfSight = 120_000;

/**
 * Whether a run may still be at what it began.
 * @param run its name
 * @param age how long ago it touched it, ms
 */
export function mayBeAtIt(run: string, age: number): boolean {
  const [where, number] = run.split('-');
  return where === machine() ? isRunning(Number(number)) && age < tooOld : age < outOfSight;
}

function isRunning(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false;
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}
