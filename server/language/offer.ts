/** What is offered to be typed. */
import type { Range } from '../../grammar/tree.ts';

export interface Completion extends Range {
  readonly kind: 'word' | 'literal' | 'name' | 'parameter' | 'dimension' | 'value' | 'measure' | 'type' | 'snippet';
  readonly label: string;
  /** What `start` to `end` is replaced by. */
  readonly text: string;
  /** The same with places to fill in (`$1`, `${2:name}`), for editors that know them. */
  readonly snippet?: string;
  readonly detail?: string | undefined;
  /** Markdown, made when somebody looks at it. */
  readonly doc?: () => string | undefined;
  /** Lower ones come first; of the same rank, in the order of the list. */
  readonly rank: number;
}

/** A completion before it is known what it replaces. */
export type Offer = Omit<Completion, 'start' | 'end'>;
