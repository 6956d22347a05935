import { type ChildProcess, spawn } from 'node:child_process';
import {
  createMessageConnection,
  type MessageConnection,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';

export interface Diagnostic {
  readonly range: { readonly start: { line: number; character: number }; readonly end: { line: number; character: number } };
  readonly message: string;
  readonly code?: string | number;
  readonly severity?: number;
}

/** A language server on its standard input and output, as an editor drives it. */
export class EditorSession {
  readonly connection: MessageConnection;
  private readonly child: ChildProcess;
  private readonly diagnostics = new Map<string, readonly Diagnostic[]>();
  private readonly waiting: {
    uri: string;
    test: (found: readonly Diagnostic[]) => boolean;
    done: (found: readonly Diagnostic[]) => void;
  }[] = [];

  constructor(command: string, args: readonly string[], cwd: string) {
    this.child = spawn(command, args, { cwd, stdio: ['pipe', 'pipe', 'inherit'] });
    if (!this.child.stdout || !this.child.stdin) throw new Error('no pipes');
    this.connection = createMessageConnection(new StreamMessageReader(this.child.stdout), new StreamMessageWriter(this.child.stdin));
    this.connection.onNotification(
      'textDocument/publishDiagnostics',
      ({ uri, diagnostics }: { uri: string; diagnostics: Diagnostic[] }) => {
        this.diagnostics.set(uri, diagnostics);
        for (const one of [...this.waiting]) {
          if (one.uri !== uri || !one.test(diagnostics)) continue;
          this.waiting.splice(this.waiting.indexOf(one), 1);
          one.done(diagnostics);
        }
      },
    );
    // What a server may ask of an editor.
    this.connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) =>
      items.map(() => ({ validate: true, hover: true, completion: true })),
    );
    this.connection.onRequest('client/registerCapability', () => null);
    this.connection.onRequest('window/workDoneProgress/create', () => null);
    this.connection.listen();
  }

  /** What is said of a file next. */
  hear(uri: string): Promise<readonly Diagnostic[]> {
    return new Promise((done) => this.waiting.push({ uri, test: () => true, done }));
  }

  async start(rootUri: string, capabilities: object = {}): Promise<{ capabilities: Record<string, unknown> }> {
    const result: { capabilities: Record<string, unknown> } = await this.connection.sendRequest('initialize', {
      processId: process.pid,
      rootUri,
      workspaceFolders: [{ uri: rootUri, name: 'shop' }],
      capabilities: {
        textDocument: {
          hover: { contentFormat: ['markdown', 'plaintext'] },
          completion: { completionItem: { documentationFormat: ['markdown', 'plaintext'] } },
          publishDiagnostics: { relatedInformation: true },
          codeAction: { codeActionLiteralSupport: { codeActionKind: { valueSet: ['quickfix'] } } },
        },
        workspace: { configuration: true, workspaceFolders: true },
        ...capabilities,
      },
    });
    await this.connection.sendNotification('initialized', {});
    return result;
  }

  async open(uri: string, text: string): Promise<void> {
    await this.connection.sendNotification('textDocument/didOpen', { textDocument: { uri, languageId: 'yaml', version: 1, text } });
  }

  async change(uri: string, version: number, text: string): Promise<void> {
    await this.connection.sendNotification('textDocument/didChange', { textDocument: { uri, version }, contentChanges: [{ text }] });
  }

  /** The first diagnostics of a document that pass a test. */
  found(uri: string, test: (found: readonly Diagnostic[]) => boolean): Promise<readonly Diagnostic[]> {
    const now = this.diagnostics.get(uri);
    if (now && test(now)) return Promise.resolve(now);
    return new Promise((done) => void this.waiting.push({ uri, test, done }));
  }

  async stop(): Promise<void> {
    await this.connection.sendRequest('shutdown');
    await this.connection.sendNotification('exit');
    this.connection.dispose();
    this.child.kill();
  }
}

/** Line and character (from 0) of the n-th place of a text. */
export function placeIn(text: string, needle: string, offset = 0): { line: number; character: number } {
  const at = text.indexOf(needle);
  if (at < 0) throw new Error(`no “${needle}”`);
  const before = text.slice(0, at + offset).split('\n');
  return { line: before.length - 1, character: before.at(-1)?.length ?? 0 };
}
