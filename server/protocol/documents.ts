/**
 * The documents that are open, by their files. A file can be open under several spellings of its address at once: to its
 * client these are documents, each with a text of its own. The one that was opened or typed in last leads: its text is
 * that of the file, and what is told of the file goes out under its spelling. The others are set aside as they are.
 */
import type { OpenDocument } from './publisher.ts';

export interface Documents {
  /** Those that lead. */
  readonly open: ReadonlyMap<string, OpenDocument>;
  /** A document is about to be opened. */
  readonly opened: (path: string, document: OpenDocument) => void;
  /** The document that an edit is for, which leads from here on; undefined where none is open. */
  readonly edited: (path: string, uri: string) => OpenDocument | undefined;
  /** A document was closed; whether its file is. */
  readonly closed: (path: string, uri: string) => 'closed' | 'open' | 'was-not-open';
}

/** The text of a file that is open. */
export interface Texts {
  readonly textOf: (path: string) => string | undefined;
  readonly replace: (path: string, text: string) => void;
}

interface Aside {
  readonly document: OpenDocument;
  readonly text: string;
}

export function createDocuments({ textOf, replace }: Texts): Documents {
  const open = new Map<string, OpenDocument>();
  const aside = new Map<string, readonly Aside[]>();

  /** Takes a document that was set aside back from there. */
  function taken(path: string, uri: string | undefined): Aside | undefined {
    const all = aside.get(path) ?? [];
    const one = all.find(({ document }) => document.uri === uri);
    const left = all.filter((other) => other !== one);
    if (left.length > 0) aside.set(path, left);
    else aside.delete(path);
    return one;
  }

  function setAside(path: string): void {
    const document = open.get(path);
    const text = textOf(path);
    if (document && text !== undefined) aside.set(path, [...(aside.get(path) ?? []), { document, text }]);
  }

  function lead(path: string, { document, text }: Aside): OpenDocument {
    open.set(path, document);
    replace(path, text);
    return document;
  }

  return {
    open,
    opened(path, document) {
      taken(path, document.uri);
      if (open.get(path)?.uri !== document.uri) setAside(path);
      open.set(path, document);
    },
    edited(path, uri) {
      // One that is spelled as none is can only be meant for the one that leads.
      const one = taken(path, uri);
      if (!one) return open.get(path);
      setAside(path);
      return lead(path, one);
    },
    closed(path, uri) {
      if (taken(path, uri)) return 'open';
      const next = taken(path, aside.get(path)?.at(-1)?.document.uri);
      if (next) {
        lead(path, next);
        return 'open';
      }
      return open.delete(path) ? 'closed' : 'was-not-open';
    },
  };
}
