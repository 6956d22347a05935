import fs from 'node:fs';

/** Larger than most files; what is not touched costs nothing. */
let room = Buffer.allocUnsafeSlow(2_000_000);

/**
 * A file, until the next is read: all are read into the same memory, as memory that nobody has touched yet takes longer to
 * read into than much that is done with the file.
 * @throws what the system says
 */
export function reread(file: string): Buffer {
  const opened = fs.openSync(file, 'r');
  try {
    let length = 0;
    for (let more = 1; more > 0; length += more) {
      if (length === room.length) room = Buffer.concat([room], 2 * length);
      more = fs.readSync(opened, room, length, room.length - length, null);
    }
    return room.subarray(0, length);
  } finally {
    fs.closeSync(opened);
  }
}
