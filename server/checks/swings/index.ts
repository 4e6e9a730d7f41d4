/** What moves in a closet, and what stands aslant: drawers, leaves, corners out of square, sloped ceilings. */
import type { Check } from '../check.ts';
import { roomOf } from '../room.ts';
import { drawersIn } from './drawers.ts';
import { leavesIn } from './leaves.ts';
import {
  drawerInSwing,
  drawerMeetsFitting,
  drawerMeetsFixture,
  drawerMeetsLeaf,
  drawerMeetsWall,
  drawersMeet,
  leafMeetsFitting,
  leafMeetsFixture,
  leafMeetsHanging,
  leafMeetsWall,
  littleRoomBeforeDrawers,
  swingWithoutHinge,
} from './rules.ts';

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

export const swingChecks: readonly Check[] = [drawerCheck, leafCheck];
