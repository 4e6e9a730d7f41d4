/** What is asked of whoever writes files for the extension: all of them or none, each of them whole. */
import type * as vscode from 'vscode';

export interface FileToWrite {
  readonly uri: vscode.Uri;
  readonly text: string;
  /** What may be written over: whatever is there, nothing, or what holds just these bytes. */
  readonly over: 'anything' | 'nothing' | Uint8Array;
  /** A folder that no link may lead out of. */
  readonly within?: vscode.Uri;
}

/**
 * Answers what people should know of what was written, a sentence each. Rejects with an error whose message says to people
 * what could not be written, and why; then what was there is there still.
 */
export type WriteFiles = (files: readonly FileToWrite[]) => Promise<readonly string[]>;

/** The message of what was thrown. */
export function whyOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
