/** Runs in a page: starts the server as a worker and speaks with it, as the test in Node tells it to. */
import {
  BrowserMessageReader,
  BrowserMessageWriter,
  createProtocolConnection,
  type ProtocolConnection,
} from 'vscode-languageserver-protocol/browser';

type Port = ConstructorParameters<typeof BrowserMessageReader>[0];
declare const Worker: new (address: string) => Port & { terminate(): void };

/** Texts by address, which stand for the file system of an editor; those of folders end with a slash. */
export type Texts = Record<string, string>;

export interface Noted {
  readonly method: string;
  readonly params: unknown;
  /** When it came, in milliseconds. */
  readonly at: number;
}

let texts: Texts = {};
let connection: ProtocolConnection;
const noted: Noted[] = [];
const wake: (() => void)[] = [];

const page = {
  /** Starts the worker; requests of the server for files are answered from `all`. */
  start(script: string, all: Texts): void {
    texts = all;
    const worker = new Worker(script);
    connection = createProtocolConnection(new BrowserMessageReader(worker), new BrowserMessageWriter(worker));
    connection.onUnhandledNotification(({ method, params }) => {
      noted.push({ method, params, at: performance.now() });
      for (const go of wake.splice(0)) go();
    });
    connection.onRequest('client/registerCapability', () => null);
    connection.onRequest('storypole/listFolders', ({ uris }: { uris: string[] }) => uris.map(list));
    connection.onRequest('storypole/readFiles', ({ uris }: { uris: string[] }) => uris.map(read));
    connection.listen();
  },
  write(uri: string, text: string | undefined): void {
    if (text === undefined) delete texts[uri];
    else texts[uri] = text;
  },
  request: (method: string, params: unknown): Promise<unknown> => connection.sendRequest(method, params),
  notify: (method: string, params: unknown): Promise<void> => connection.sendNotification(method, params),
  /** What the server has told, from the one numbered `from` on; waits for one where there is none yet. */
  async told(from: number): Promise<Noted[]> {
    while (noted.length <= from) await new Promise<void>((go) => wake.push(go));
    return noted.slice(from);
  },
};

export type Page = typeof page;
(globalThis as unknown as { page: Page }).page = page;

function list(folder: string): { name: string; kind: 'file' | 'folder' }[] | null {
  const found = new Map<string, 'file' | 'folder'>();
  for (const uri of Object.keys(texts)) {
    if (!uri.startsWith(`${folder}/`)) continue;
    const [name = '', ...more] = uri.slice(folder.length + 1).split('/');
    found.set(name, more.length > 0 ? 'folder' : 'file');
  }
  return found.size === 0 ? null : [...found].map(([name, kind]) => ({ name: decodeURIComponent(name), kind }));
}

function read(uri: string): { kind: 'read'; bytes: Uint8Array } | null {
  const text = texts[uri];
  return text === undefined ? null : { kind: 'read', bytes: new TextEncoder().encode(text) };
}
