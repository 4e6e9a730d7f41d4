/** The checks of fixings: studs and anchors, spacing, brackets and hooks, and what is missing. */
import type { Check } from '../check.ts';
import { checkBrackets, checkHooks } from './hooks.ts';
import { checkHardware, checkHeld, checkPins } from './missing.ts';
import { checkObstacles } from './obstacles.ts';
import * as rules from './rules.ts';
import { checkRatings, checkSpacing, checkStuds, checkStudsEven, checkStudsStated } from './studs.ts';

export const fixingChecks: readonly Check[] = [
  { rules: [rules.studMissed, rules.anchorNotNamed], run: checkStuds },
  { rules: [rules.anchorRatedLow], run: checkRatings },
  { rules: [rules.studsNotStated], run: checkStudsStated },
  { rules: [rules.studsUneven], run: checkStudsEven },
  { rules: [rules.spacingExceeded], run: checkSpacing },
  { rules: [rules.bracketPastShelf, rules.shelfPastBracket], run: checkBrackets },
  { rules: [rules.hookOffRod, rules.hookWithoutBracket], run: checkHooks },
  { rules: [rules.towerNotTied, rules.partNotCarried], run: checkHeld },
  { rules: [rules.hardwareWithoutRole, rules.screwSizeUnread], run: checkHardware },
  { rules: [rules.pinWithoutPanel], run: checkPins },
  { rules: [rules.fixingAtFixture], run: checkObstacles },
];
