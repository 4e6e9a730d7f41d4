/** A file system that is on no disk, for VS Code in a page: the files that lie beside this extension, kept in memory. */
import * as vscode from 'vscode';

interface Entry {
  bytes: Uint8Array;
  mtime: number;
}

/** Reads `files.json`, names to texts, from where the extension was served, and offers them as `quarry:/`. */
export async function activate(context: vscode.ExtensionContext): Promise<void> {
  const listed = await fetch(vscode.Uri.joinPath(context.extensionUri, 'files.json').toString(true));
  const texts = (await listed.json()) as Record<string, string>;
  const files = new Map<string, Entry>(
    Object.entries(texts).map(([name, text]) => [`/${name}`, { bytes: new TextEncoder().encode(text), mtime: 1 }]),
  );
  const changed = new vscode.EventEmitter<vscode.FileChangeEvent[]>();
  const below = (uri: vscode.Uri) => (uri.path.endsWith('/') ? uri.path : `${uri.path}/`);
  const isFolder = (uri: vscode.Uri) => [...files.keys()].some((name) => name.startsWith(below(uri)));
  const tell = (type: vscode.FileChangeType, uri: vscode.Uri) => changed.fire([{ type, uri }]);

  const provider: vscode.FileSystemProvider = {
    onDidChangeFile: changed.event,
    watch: () => new vscode.Disposable(() => undefined),
    stat(uri) {
      const file = files.get(uri.path);
      if (file) return { type: vscode.FileType.File, ctime: 1, mtime: file.mtime, size: file.bytes.length };
      if (isFolder(uri)) return { type: vscode.FileType.Directory, ctime: 1, mtime: 1, size: 0 };
      throw vscode.FileSystemError.FileNotFound(uri);
    },
    readDirectory(uri) {
      const found = new Map<string, vscode.FileType>();
      for (const name of files.keys()) {
        if (!name.startsWith(below(uri))) continue;
        const [first = '', ...more] = name.slice(below(uri).length).split('/');
        found.set(first, more.length > 0 ? vscode.FileType.Directory : vscode.FileType.File);
      }
      return [...found];
    },
    readFile(uri) {
      const file = files.get(uri.path);
      if (!file) throw vscode.FileSystemError.FileNotFound(uri);
      return file.bytes;
    },
    writeFile(uri, bytes) {
      const type = files.has(uri.path) ? vscode.FileChangeType.Changed : vscode.FileChangeType.Created;
      files.set(uri.path, { bytes, mtime: Date.now() });
      tell(type, uri);
    },
    createDirectory: () => undefined,
    delete(uri) {
      for (const name of [...files.keys()]) if (name === uri.path || name.startsWith(below(uri))) files.delete(name);
      tell(vscode.FileChangeType.Deleted, uri);
    },
    rename(from, to) {
      const file = files.get(from.path);
      if (!file) throw vscode.FileSystemError.FileNotFound(from);
      files.delete(from.path);
      files.set(to.path, file);
      tell(vscode.FileChangeType.Deleted, from);
      tell(vscode.FileChangeType.Created, to);
    },
  };
  context.subscriptions.push(changed, vscode.workspace.registerFileSystemProvider('quarry', provider));
}
