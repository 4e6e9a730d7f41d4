/** Addresses of documents and paths of files: absolute, with forward slashes. */
import { URI } from 'vscode-uri';
import { join } from '../model/files.ts';

/** A file that is not on a disk: its scheme and its authority are the first two folders of its path. */
const elsewhere = /^\/([a-z][a-z0-9+.-]*):\/@([^/]*)(\/.*)?$/i;

/**
 * The path of a document, or undefined for one that is not a file and will never be one. An unsaved
 * document gets a folder of its own that cannot be on a disk, so that it is a project by itself. A file
 * of a file system that only the editor knows gets a path that names it: `/vscode-vfs:/@github/flats/a.closet`.
 * However an address is spelled, it is one path.
 */
export function pathOf(uri: string): string | undefined {
  let parsed: URI;
  try {
    // A scheme is the same in capitals. source: RFC 3986, 3.1.
    parsed = URI.parse(
      uri.replace(/^[a-z][a-z0-9+.-]*:/i, (scheme) => scheme.toLowerCase()),
      true,
    );
    if (parsed.scheme === 'file') return diskPath(parsed);
  } catch {
    return undefined;
  }
  const { scheme, authority } = parsed;
  if (scheme === 'untitled') return `/untitled:/${encodeURIComponent(parsed.path)}/untitled.closet`;
  // With a query it is a view of a file, as it was or as it will be: the file of a commit, one side of a comparison.
  if (parsed.query !== '' || parsed.fragment !== '' || !parsed.path.startsWith('/')) return undefined;
  return withoutSlash(`/${scheme}:/@${encodeURIComponent(authority)}${parsed.path}`);
}

/** The address of a file that the client has not named itself. */
export function uriOf(path: string): string {
  const [, scheme, authority, rest] = elsewhere.exec(path) ?? [];
  if (scheme === undefined || authority === undefined) return URI.file(path).toString();
  return URI.from({ scheme, authority: decodeURIComponent(authority), path: rest ?? '/' }).toString();
}

/** Whether the path is of a file that is not on a disk. */
export function isElsewhere(path: string): boolean {
  return elsewhere.test(path);
}

/** A host is the same in capitals, and that of this machine the same as none. source: RFC 3986, 6.2.2; RFC 8089, 2. */
function diskPath(parsed: URI): string {
  const host = parsed.authority.toLowerCase();
  const isOwn = host === 'localhost';
  const path = isOwn ? parsed.path.replace(/^\/+/, '/') : parsed.path;
  return join(parsed.with({ authority: isOwn ? '' : host, path }).fsPath.replaceAll('\\', '/'), '.');
}

function withoutSlash(path: string): string {
  return path.length > 1 && path.endsWith('/') ? path.slice(0, -1) : path;
}
