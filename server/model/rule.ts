/** A rule as data. Every finding names one; the one table of them is in checks/table.ts. */

export type Severity = 'error' | 'warning' | 'note';

export type RuleFamily =
  | 'text'
  | 'words'
  | 'names'
  | 'quantities'
  | 'project'
  | 'chains'
  | 'parts'
  | 'hanging'
  | 'swings'
  | 'access'
  | 'light'
  | 'structure'
  | 'fixing'
  | 'fixtures'
  | 'survey'
  | 'stock'
  | 'policy';

export type RuleSource =
  /** `seen` is false for a value recalled from memory and not looked up. */
  | {
      readonly kind: 'published';
      readonly document: string;
      readonly section: string;
      readonly edition: string;
      readonly seen: boolean;
    }
  /** A fact of the trade: common practice, no source. */
  | { readonly kind: 'common-practice' }
  /** A rule of the language or plain geometry; nothing outside to cite. */
  | { readonly kind: 'language' };

export interface Rule {
  /** Plain words joined by hyphens, ours. */
  readonly id: string;
  readonly family: RuleFamily;
  readonly title: string;
  /** What it means and what to do, for `storypole explain`: whole sentences. */
  readonly explanation: string;
  readonly severity: Severity;
  /**
   * It may be told for nothing but something that cannot be read, and while that is told, it is not. That is in the
   * `thing` that it is told of, which may say just what is missing; in the `declaration` in which that stands, and those
   * it is built on; in these or in the thickness of a board, which `heights` rest on, and `widths` between panels; or in
   * `anything` that it is computed from.
   */
  readonly quiet?: 'thing' | 'declaration' | 'widths' | 'heights' | 'anything';
  readonly source: RuleSource;
  /** Other editions and documents that state it, or state it otherwise. */
  readonly editions?: readonly RuleSource[];
  /** The comparison made, as a formula in words: `rod height - hanging length >= clear-below-garment`. */
  readonly comparison?: string;
  /** Where work can hurt someone: the caution that goes with it. */
  readonly caution?: string;
  /** Facts it needs and a layout may lack, in words: `stiffness of the board`. */
  readonly needs?: readonly string[];
  /** Names of policy limits that it reads. */
  readonly limits?: readonly string[];
}

/** The source line as people read it. */
export function sourceLine(source: RuleSource): string {
  switch (source.kind) {
    case 'published':
      return `source: ${source.document}, ${source.section} (${source.edition})${source.seen ? '' : ', from memory'}`;
    case 'common-practice':
      return 'common practice, no source';
    case 'language':
      return 'source: this language; plain geometry';
  }
}

/** Limits that a policy can set: `limit rod-height at most 48in`. */
export interface LimitEntry {
  readonly name: string;
  readonly doc: string;
}
