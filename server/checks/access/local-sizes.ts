/** Sizes of closets that one place or another asks for. A policy sets them; nothing is asked for by itself. */
import { inches } from '../../model/ticks.ts';
import { published } from './sources.ts';

/** Closets of housing that a state aids. */
export const stateHousing = {
  /** Of bedroom and coat closets, clear. */
  deep: inches(22),
  /** Length of closet a person, along the rod. */
  perPerson: inches(24),
  source: published(
    'New York Codes, Rules and Regulations, title 9, as copied at casetext.com',
    '1610.4',
    'edition not stated in the copy',
  ),
} as const;
