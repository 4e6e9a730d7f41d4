/** What moves in a closet, and what stands aslant: drawers, leaves, corners out of square, sloped ceilings. */
import type { Check } from '../check.ts';
import { roomOf } from '../room.ts';
import { cornersIn } from './corners.ts';
import { drawersIn } from './drawers.ts';
import { leavesIn } from './leaves.ts';
import {
  cornerLeavesGap,
  cornerOutOfSquare,
  drawerInSwing,
  drawerMeetsFitting,
  drawerMeetsFixture,
  drawerMeetsLeaf,
  drawerMeetsWall,
  drawersMeet,
  fittingMeetsSlope,
  hangingMeetsSlope,
  leafMeetsFitting,
  leafMeetsFixture,
  leafMeetsHanging,
  leafMeetsWall,
  littleRoomBeforeDrawers,
  lowOverShelf,
  swingWithoutHinge,
} from './rules.ts';
import { slopesIn } from './slopes.ts';

export const drawerCheck: Check = {
  rules: [
    drawerMeetsWall,
    drawerMeetsFitting,
    drawerMeetsFixture,
    drawerMeetsLeaf,
    drawersMeet,
    littleRoomBeforeDrawers,
  ],
  run: (input) => drawersIn(input, roomOf(input.layout)),
};

export const leafCheck: Check = {
  rules: [leafMeetsFitting, leafMeetsHanging, leafMeetsFixture, leafMeetsWall, drawerInSwing, swingWithoutHinge],
  run: (input) => leavesIn(input, roomOf(input.layout)),
};

export const cornerCheck: Check = {
  rules: [cornerOutOfSquare, cornerLeavesGap],
  run: (input) => cornersIn(input, roomOf(input.layout)),
};

export const slopeCheck: Check = {
  rules: [fittingMeetsSlope, hangingMeetsSlope, lowOverShelf],
  run: (input) => slopesIn(input, roomOf(input.layout)),
};

export const swingChecks: readonly Check[] = [drawerCheck, leafCheck, cornerCheck, slopeCheck];
