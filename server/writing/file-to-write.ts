/** What is asked of whoever writes files. */
import type { BigIntStats } from 'node:fs';
import type { Stop } from './stop.ts';

export type Piece = string | Uint8Array;
export type Pieces = Iterable<Piece> | AsyncIterable<Piece>;

export interface FileToWrite {
  /** From the current folder where it is not absolute. */
  readonly path: string;
  /** The path as people are shown it. */
  readonly shown: string;
  readonly pieces: Pieces;
  /** Looks at what stands there, and throws Stop where it may not be replaced. Without it, nothing may stand there. */
  readonly over?: (there: There) => void;
  /** The same once the new one is whole, `beside` it. */
  readonly overBy?: (there: There, beside: string) => void;
  /** What it holds as far as is known: where it holds anything else it is left. */
  readonly expected?: Uint8Array;
  /** A folder that neither a link nor the path may lead out of. */
  readonly within?: string;
  /** Makes its folder where there is none. */
  readonly makesFolder?: boolean;
  /** What is told where there is no file to be written over, after what is there. */
  readonly otherwise?: { readonly folder?: string; readonly device?: string };
  /** Told where something has come to stand there since it was looked at. */
  readonly taken?: () => Stop;
}

/** An ordinary file, links followed. */
export interface There {
  readonly path: string;
  readonly stat: BigIntStats;
}
