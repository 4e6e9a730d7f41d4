/** Addresses of documents and paths of files: absolute, with forward slashes. */
import { URI } from 'vscode-uri';

/**
 * The path of a document, or undefined for one that is not a file and will never be one. An unsaved
 * document gets a folder of its own that cannot be on a disk, so that it is a project by itself.
 */
export function pathOf(uri: string): string | undefined {
  let parsed: URI;
  try {
    parsed = URI.parse(uri, true);
  } catch {
    return undefined;
  }
  if (parsed.scheme === 'untitled') return `/untitled:/${encodeURIComponent(parsed.path)}/untitled.closet`;
  if (parsed.scheme !== 'file') return undefined;
  const path = parsed.fsPath.replaceAll('\\', '/');
  return path.length > 1 && path.endsWith('/') ? path.slice(0, -1) : path;
}

/** The address of a file that the client has not named itself. */
export function uriOf(path: string): string {
  return URI.file(path).toString();
}
