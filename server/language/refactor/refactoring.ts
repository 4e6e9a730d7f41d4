/** What a refactoring offers. */
import type { TextEdit } from '../snapshot.ts';

export interface Refactoring {
  readonly id: string;
  readonly title: string;
  readonly kind: `refactor.${'extract' | 'inline' | 'rewrite'}`;
  /** Why it cannot be made here, where somebody could expect that it can. */
  readonly disabled?: string;
  readonly edits: readonly TextEdit[];
}
