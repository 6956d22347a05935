import stream from 'node:stream';
import url from 'node:url';
import {
  CodeActionKind,
  CompletionItemKind,
  createConnection,
  type Diagnostic,
  DiagnosticSeverity,
  MarkupKind,
  MessageType,
  ProposedFeatures,
  type Range,
  ShowMessageNotification,
  StreamMessageReader,
  StreamMessageWriter,
  TextDocumentSyncKind,
} from 'vscode-languageserver/node';
import type { Finding, Severity } from '../findings/finding.js';
import type { Library } from '../library/library.js';
import { findRoot, fullPath, liesIn, nameOfPath } from '../library/root.js';
import { once } from '../once.js';
import { offsetAt, type SourceFile, type Span } from '../source/source.js';
import { type KnownLibrary, LiveLibrary, type RoomForFound } from '../live-library.js';
import type { Happened, Watcher } from '../world/watch.js';
import { endsIn } from '../world/paths.js';
import { CannotRun, type World } from '../world/world.js';
import { definitionAt, editorPlace, hoverAt, suggestionsAt } from './language.js';

/** Pause after a key stroke before the library is looked at again, ms. */
const pause = 5;

/** The editor is not kept waiting for longer at a time, ms. */
const slice = 10;

/** What was said last may take as long to be answered when the input has ended, ms. */
const lastWords = 500;

/** Says whether a while has passed since it was first asked. */
function afterAWhile(): () => boolean {
  let since: number | undefined;
  return () => {
    since ??= performance.now();
    return performance.now() - since > slice;
  };
}

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  info: DiagnosticSeverity.Information,
};

interface Open {
  text: string;
}

/** What a language server has around it. */
export interface Around {
  /** Tells what happens in a folder; gives what ends it. */
  readonly watch: (folder: string, watcher: Watcher) => () => void;
  /** What an earlier run knew of a library. */
  readonly known: (root: string) => KnownLibrary | undefined;
  readonly room: RoomForFound;
}

/** What an editor sends is not always what the protocol says. */
const isText = (sent: unknown): sent is string => typeof sent === 'string';

/**
 * A language server on standard input and output: the findings of `check` as you type, definitions, hover, names in
 * scope, and the fixes that are certain. Texts that are open in the editor take the place of those on disk.
 * @param shippedFolder where the documents that come with the tool lie
 */
export function serveEditor(
  world: World,
  shippedFolder: string,
  input: NodeJS.ReadableStream,
  output: NodeJS.WritableStream,
  { watch, known, room }: Around,
): Promise<void> {
  // The connection is not told that the input ends: it could then not even say what was wrong with the last message.
  const messages = input.pipe(new stream.PassThrough(), { end: false });
  const connection = createConnection(ProposedFeatures.all, new StreamMessageReader(messages), new StreamMessageWriter(output));
  const open = new Map<string, Open>();
  /** What the editor was told of each file, by uri; null where it may have forgotten. */
  const told = new Map<string, readonly Finding[] | null>();
  /** What was found in each library at the last look, by its folder. */
  const seen = new Map<string, { readonly library: Library; readonly findings: readonly Finding[] }>();
  let timer: NodeJS.Timeout | undefined;
  let goingOn: NodeJS.Immediate | undefined;

  /** Tells whoever edits; without a question, as not every editor answers one. */
  const say = (type: MessageType, words: string): void =>
    void connection.sendNotification(ShowMessageNotification.type, { type, message: `baywright: ${words}` });
  /** The path of the file that a document is; null where it is none: a new one that is not kept yet, an earlier state of one. */
  const pathOf = (uri: string): string | null => {
    try {
      return url.fileURLToPath(uri).replaceAll('\\', '/');
    } catch {
      return null;
    }
  };
  /** Libraries by their folder, each with what ends its watch. */
  const libraries = new Map<string, { readonly live: LiveLibrary; readonly end: () => void }>();
  /** Texts that are open in the editor over those on disk. */
  const seenWorld: World = {
    ...world,
    files: (folder, endings) => {
      const listed = world.files(folder, endings);
      const fresh = [...open.keys()].filter((path) => liesIn(path, folder) && endsIn(path, endings) && !listed.includes(path));
      return fresh.length === 0 ? listed : [...listed, ...fresh].sort();
    },
    read: (path, within) => {
      const text = open.get(path)?.text;
      return text === undefined ? world.read(path, within) : { ok: true, text };
    },
  };
  const pathOfFile = ({ root }: { readonly root: string }, { path }: SourceFile): string => fullPath(path, root, shippedFolder);
  const uriOf = (library: Library, { file }: Span): string => url.pathToFileURL(pathOfFile(library, file)).href;
  const rangeOf = (span: Span): Range => ({ start: editorPlace(span), end: editorPlace(span, true) });

  /** That a file has another text in the editor; one that is not on disk comes and goes with it. */
  const asHappened = (path: string): Happened => ({ path, moved: world.kindOf(path) !== 'file' });
  /** Folders of libraries for which there is no room. */
  const tooLarge = new Set<string>();
  /** The library around a file; its folder is watched from then on. */
  const libraryAround = (path: string): LiveLibrary | null => {
    const root = findRoot(world, path);
    if (root === null || tooLarge.has(root)) return null;
    let found = libraries.get(root);
    if (!found) {
      // Watched first, so that no change falls between.
      const end = watch(root, {
        happened(one) {
          live.happened(one);
          lookSoon();
        },
        // If a library stands there again, it is another.
        gone() {
          libraries.delete(root);
          seen.delete(root);
          lookSoon();
        },
        tooMany: () =>
          say(
            MessageType.Warning,
            `${root} has more folders than the system lets a program watch. What other programs change in some of them will not be seen until the editor begins anew.`,
          ),
      });
      const live = new LiveLibrary(seenWorld, root, shippedFolder, `${root}/out`, { known: known(root), room });
      for (const one of open.keys()) live.happened(asHappened(one));
      found = { live, end };
      libraries.set(root, found);
    }
    return found.live;
  };

  const look = (): void => {
    for (const path of open.keys()) libraryAround(path);
    const unfinished: LiveLibrary[] = [];
    for (const { live } of libraries.values()) {
      const inHand = new Set([...open.keys()].map((path) => nameOfPath(path, live.root, shippedFolder)));
      whileRoom(live, () => {
        const { library, findings, done } = live.look({
          first: (one) => inHand.has(one.file.path),
          enough: afterAWhile(),
        });
        seen.set(live.root, { library, findings });
        if (!done) unfinished.push(live);
      });
    }
    tell();
    if (unfinished.length > 0) goOnWith(unfinished);
  };
  /** Looks at what is left, between one message of the editor and the next. */
  const goOnWith = (unfinished: readonly LiveLibrary[]): void => {
    goingOn = setImmediate(() => {
      if (unfinished.every((live) => whileRoom(live, () => live.goOn(afterAWhile())) ?? true)) look();
      else goOnWith(unfinished.filter(({ root }) => libraries.has(root)));
    });
  };
  /** Does something with a library; one for which there is no room is let go of, and whoever edits it is told why. */
  const whileRoom = <T>({ root }: LiveLibrary, work: () => T): T | undefined => {
    try {
      return work();
    } catch (error) {
      if (!(error instanceof CannotRun)) throw error;
      libraries.get(root)?.end();
      libraries.delete(root);
      seen.delete(root);
      tooLarge.add(root);
      say(MessageType.Error, `${error.message} Until the editor begins anew, nothing more is said of ${root}.`);
      return undefined;
    }
  };
  /** Tells the editor what is found in each file of which it was told something else. */
  const tell = (): void => {
    const now = new Set<string>();
    for (const { live } of libraries.values()) {
      const { library, findings } = seen.get(live.root) ?? {};
      if (!library || !findings) continue;
      const byFile = new Map<SourceFile, Finding[]>();
      for (const finding of findings) once(byFile, finding.span.file, () => []).push(finding);
      whileRoom(live, () => {
        for (const [file, found] of byFile) {
          const uri = url.pathToFileURL(pathOfFile(library, file)).href;
          now.add(uri);
          const before = told.get(uri);
          if (found.length === before?.length && found.every((finding, n) => finding === before[n])) continue;
          live.mustHaveRoom();
          void connection.sendDiagnostics({ uri, diagnostics: found.map((finding) => diagnosticOf(library, finding)) });
          told.set(uri, found);
        }
      });
    }
    for (const uri of [...told.keys()].filter((one) => !now.has(one))) {
      void connection.sendDiagnostics({ uri, diagnostics: [] });
      told.delete(uri);
    }
  };
  const diagnosticOf = (library: Library, finding: Finding): Diagnostic => ({
    range: rangeOf(finding.span),
    severity: severities[finding.severity],
    code: finding.rule,
    source: 'baywright',
    message: finding.message,
    relatedInformation: (finding.related ?? []).map((one) => ({
      location: { uri: uriOf(library, one.span), range: rangeOf(one.span) },
      message: one.message,
    })),
  });
  /** The editor has another text for a file. */
  const changed = (path: string): void => {
    for (const { live } of libraries.values()) live.happened(asHappened(path));
    lookSoon();
  };
  const lookSoon = (): void => {
    clearTimeout(timer);
    if (goingOn) clearImmediate(goingOn);
    timer = setTimeout(lookNow, pause);
  };
  const lookNow = (): void => {
    clearTimeout(timer);
    timer = undefined;
    look();
  };

  /** The file at a place with its text and offset there, in a library that is as fresh as the text. */
  const placeIn = (uri: string, position: { line: number; character: number }) => {
    const path = pathOf(uri);
    if (path === null) return null;
    const live = libraryAround(path);
    const library = live && whileRoom(live, () => live.read());
    const text = open.get(path)?.text;
    if (!library || text === undefined) return null;
    const file = library.files.find((one) => pathOfFile(library, one.file) === path);
    return { library, file, text, offset: offsetAt({ path, text }, { line: position.line + 1, column: position.character + 1 }) };
  };

  connection.onInitialize(() => ({
    serverInfo: { name: 'baywright' },
    capabilities: {
      textDocumentSync: TextDocumentSyncKind.Full,
      definitionProvider: true,
      hoverProvider: true,
      completionProvider: { triggerCharacters: [' ', '-', '['] },
      codeActionProvider: { codeActionKinds: [CodeActionKind.QuickFix] },
    },
  }));
  connection.onDidOpenTextDocument(({ textDocument }) => {
    const path = pathOf(textDocument.uri);
    if (path === null || !isText(textDocument.text)) return;
    open.set(path, { text: textDocument.text });
    told.set(url.pathToFileURL(path).href, null);
    changed(path);
  });
  connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
    const path = pathOf(textDocument.uri);
    const text = contentChanges.at(-1)?.text;
    if (path === null || !isText(text)) return;
    open.set(path, { text });
    changed(path);
  });
  connection.onDidCloseTextDocument(({ textDocument }) => {
    const path = pathOf(textDocument.uri);
    if (path === null) return;
    open.delete(path);
    changed(path);
  });
  connection.onDefinition(({ textDocument, position }) => {
    const at = placeIn(textDocument.uri, position);
    const span = at && definitionAt(at.library, at.file, at.text, at.offset);
    return span ? { uri: uriOf(at.library, span), range: rangeOf(span) } : null;
  });
  connection.onHover(({ textDocument, position }) => {
    const at = placeIn(textDocument.uri, position);
    const hover = at && hoverAt(at.library, at.file, at.text, at.offset);
    return hover ? { contents: { kind: MarkupKind.Markdown, value: hover.words } } : null;
  });
  connection.onCompletion(({ textDocument, position }) => {
    const at = placeIn(textDocument.uri, position);
    return at
      ? suggestionsAt(at.library, at.file, at.text, at.offset).map((one) => ({
          label: one.name,
          detail: one.detail,
          kind: CompletionItemKind.Reference,
        }))
      : [];
  });
  connection.onCodeAction(({ textDocument, range }) => {
    if (timer) lookNow();
    const path = pathOf(textDocument.uri);
    const looked = path === null ? undefined : seen.get(libraryAround(path)?.root ?? '');
    if (!looked) return [];
    const { library, findings } = looked;
    return findings.flatMap((finding) => {
      const { fix } = finding;
      const place = rangeOf(finding.span);
      if (!fix || pathOfFile(library, finding.span.file) !== path || place.end.line < range.start.line || place.start.line > range.end.line)
        return [];
      const changes: Record<string, { range: Range; newText: string }[]> = {};
      for (const edit of fix.edits) {
        const uri = uriOf(library, edit.span);
        changes[uri] = [...(changes[uri] ?? []), { range: rangeOf(edit.span), newText: edit.text }];
      }
      return [{ title: fix.title, kind: CodeActionKind.QuickFix, edit: { changes } }];
    });
  });
  const stop = (): void => {
    clearTimeout(timer);
    if (goingOn) clearImmediate(goingOn);
    for (const { end } of libraries.values()) end();
  };
  return new Promise((done) => {
    connection.onExit(() => done());
    connection.onShutdown(stop);
    // The editor went away without a word. What it had said before is still answered.
    input.once('end', () => {
      setTimeout(() => {
        stop();
        done();
      }, lastWords);
    });
    connection.listen();
  });
}
