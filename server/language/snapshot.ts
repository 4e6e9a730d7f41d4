/** What an editor feature is asked about: one file of one project, as of now. */
import type { Source } from '../../grammar/source.ts';
import type { Project } from '../model/project.ts';

export interface Snapshot {
  readonly project: Project;
  readonly source: Source;
  /** Absolute path of the file; also the id of its source. */
  readonly path: string;
}

/** A stretch of a file in UTF-16 offsets. */
export interface Span {
  readonly file: string;
  readonly start: number;
  readonly end: number;
}

/** Text to put in place of a stretch of a file. */
export interface TextEdit extends Span {
  readonly text: string;
}
