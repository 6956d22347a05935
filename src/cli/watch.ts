import { liesIn } from '../library/root.js';
import { LiveLibrary } from '../live-library.js';
import type { Finding } from '../findings/finding.js';
import { realWorld } from '../world/real.js';
import { watchFolder } from '../world/watch.js';
import { CannotRun } from '../world/world.js';
import { knownLive } from './known-files.js';
import { shippedFolder } from './package-folder.js';
import { readWhileRoom, roomForFound } from './room.js';
import { outOf } from './root.js';

/** A pause in which changes that belong together arrive: an editor writes, renames and deletes, ms. */
const pause = 10;

/** Who is told what is found, and when it is enough. */
export interface Audience {
  /** What was found, each time. */
  show(found: { readonly files: readonly string[]; readonly findings: readonly Finding[] }): void;
  talk(text: string): void;
  /** Ends the watch. */
  readonly until: AbortSignal;
}

/** Looks at a library now and after every change, until it is told to end; throws where the library goes away. */
export function watchLibrary(root: string, { show, talk, until }: Audience): Promise<void> {
  const out = outOf(root);
  return new Promise((done, fail) => {
    let timer: NodeJS.Timeout | undefined;
    const end = watchFolder(root, {
      happened(one) {
        if (liesIn(one.path, out)) return;
        live.happened(one);
        clearTimeout(timer);
        timer = setTimeout(look, pause);
      },
      gone() {
        clearTimeout(timer);
        fail(new CannotRun(`The folder ${root} is gone, or another stands in its place. Run this again where the library is now.`));
      },
      tooMany: () =>
        talk(
          `${root} has more folders than the system lets a program watch: changes in some of them will not be seen. Raise the limit (on Linux fs.inotify.max_user_watches), or run \`check\` without --watch.\n`,
        ),
    });
    // Watched first, so that no change falls between.
    const live = new LiveLibrary({ ...realWorld, read: readWhileRoom({ again: true }) }, root, shippedFolder, out, {
      known: knownLive(root),
      room: roomForFound,
    });
    const look = () => {
      try {
        const { library, findings } = live.look();
        show({ files: library.files.filter((file) => !file.shipped).map((file) => file.file.path), findings });
      } catch (error) {
        fail(error);
      }
    };
    look();
    until.addEventListener('abort', () => {
      clearTimeout(timer);
      end();
      done();
    });
  });
}
