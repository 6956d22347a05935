import url from 'node:url';
import {
  CodeActionKind,
  CompletionItemKind,
  createConnection,
  type Diagnostic,
  DiagnosticSeverity,
  MarkupKind,
  ProposedFeatures,
  type Range,
  StreamMessageReader,
  StreamMessageWriter,
  TextDocumentSyncKind,
} from 'vscode-languageserver/node';
import type { Finding, Severity } from '../findings/finding.js';
import type { Library } from '../library/library.js';
import { findRoot } from '../library/root.js';
import { offsetAt, type Span } from '../source/source.js';
import { LiveLibrary } from '../live-library.js';
import { type RememberingWorld, rememberingWorld } from '../world/remembering.js';
import type { World } from '../world/world.js';
import { definitionAt, editorPlace, hoverAt, suggestionsAt } from './language.js';

/** Pause after a key stroke before the library is looked at again, ms. */
const pause = 15;

const severities: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  info: DiagnosticSeverity.Information,
};

interface Open {
  text: string;
}

/**
 * A language server on standard input and output: the findings of `check` as you type, definitions, hover, names in
 * scope, and the fixes that are certain. Texts that are open in the editor take the place of those on disk.
 * @param shippedFolder where the documents that come with the tool lie
 * @param watch tells what happens in a folder; gives what ends it
 */
export function serveEditor(
  world: World,
  shippedFolder: string,
  input: NodeJS.ReadableStream,
  output: NodeJS.WritableStream,
  watch: (folder: string, happened: (one: { readonly path: string; readonly moved: boolean }) => void) => () => void,
): Promise<void> {
  const connection = createConnection(ProposedFeatures.all, new StreamMessageReader(input), new StreamMessageWriter(output));
  const open = new Map<string, Open>();
  const published = new Set<string>();
  let seen: { library: Library; findings: readonly Finding[] } | null = null;
  let timer: NodeJS.Timeout | undefined;

  const pathOf = (uri: string): string => url.fileURLToPath(uri).replaceAll('\\', '/');
  /** Libraries by their folder, each with what ends its watch. */
  const libraries = new Map<string, { readonly live: LiveLibrary; readonly disk: RememberingWorld; readonly end: () => void }>();
  /** Texts that are open in the editor over those on disk. */
  const over = (disk: World): World => ({
    ...disk,
    files: (folder, endings) => {
      const listed = disk.files(folder, endings);
      const fresh = [...open.keys()].filter(
        (path) => path.startsWith(`${folder}/`) && endings.some((ending) => path.endsWith(ending)) && !listed.includes(path),
      );
      return fresh.length === 0 ? listed : [...listed, ...fresh].sort();
    },
    read: (path, within) => {
      const text = open.get(path)?.text;
      return text === undefined ? disk.read(path, within) : { ok: true, text };
    },
  });
  const fullPath = (library: Library, span: Span): string =>
    span.file.path.startsWith('baywright:')
      ? `${shippedFolder}/${span.file.path.slice('baywright:procedures/'.length)}`
      : `${library.root}/${span.file.path}`;
  const uriOf = (library: Library, span: Span): string => url.pathToFileURL(fullPath(library, span)).href;
  const rangeOf = (span: Span): Range => ({ start: editorPlace(span), end: editorPlace(span, true) });

  /** The library around a file; its folder is watched from then on. */
  const libraryAround = (path: string): LiveLibrary | null => {
    const root = findRoot(world, path);
    if (root === null) return null;
    let found = libraries.get(root);
    if (!found) {
      const disk = rememberingWorld(world);
      const end = watch(root, (one) => {
        disk.changed(one.path);
        if (one.moved) disk.moved();
        lookSoon();
      });
      found = { live: new LiveLibrary(over(disk), root, shippedFolder, [`${root}/out`]), disk, end };
      libraries.set(root, found);
    }
    return found.live;
  };

  const look = (): void => {
    const [first] = open.keys();
    const live = first === undefined ? null : libraryAround(first);
    if (!live) return;
    const { library, findings } = live.look();
    seen = { library, findings };
    const byUri = new Map<string, Diagnostic[]>([...published].map((uri) => [uri, []]));
    for (const finding of findings) {
      const uri = uriOf(library, finding.span);
      const diagnostics = byUri.get(uri) ?? [];
      diagnostics.push({
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
      byUri.set(uri, diagnostics);
    }
    for (const [uri, diagnostics] of byUri) {
      published.add(uri);
      void connection.sendDiagnostics({ uri, diagnostics });
    }
  };
  const lookSoon = (): void => {
    clearTimeout(timer);
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
    const library = libraryAround(path)?.read();
    const text = open.get(path)?.text;
    if (!library || text === undefined) return null;
    const file =
      library.files.find((one) => `${library.root}/${one.file.path}` === path) ??
      seen?.library.files.find((one) => path.endsWith(`/${one.file.path}`));
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
    open.set(pathOf(textDocument.uri), { text: textDocument.text });
    lookSoon();
  });
  connection.onDidChangeTextDocument(({ textDocument, contentChanges }) => {
    const text = contentChanges.at(-1)?.text;
    if (text !== undefined) open.set(pathOf(textDocument.uri), { text });
    lookSoon();
  });
  connection.onDidCloseTextDocument(({ textDocument }) => {
    open.delete(pathOf(textDocument.uri));
    lookSoon();
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
    const { library, findings } = seen ?? { library: null, findings: [] };
    if (!library) return [];
    return findings.flatMap((finding) => {
      const { fix } = finding;
      const place = rangeOf(finding.span);
      if (!fix || fullPath(library, finding.span) !== path || place.end.line < range.start.line || place.start.line > range.end.line)
        return [];
      const changes: Record<string, { range: Range; newText: string }[]> = {};
      for (const edit of fix.edits) {
        const uri = uriOf(library, edit.span);
        changes[uri] = [...(changes[uri] ?? []), { range: rangeOf(edit.span), newText: edit.text }];
      }
      return [{ title: fix.title, kind: CodeActionKind.QuickFix, edit: { changes } }];
    });
  });
  return new Promise((done) => {
    connection.onExit(() => done());
    connection.onShutdown(() => {
      clearTimeout(timer);
      for (const { end } of libraries.values()) end();
    });
    connection.listen();
  });
}
