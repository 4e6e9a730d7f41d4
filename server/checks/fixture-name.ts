/** How fixtures are named in messages. */
import type { FixtureLayout } from '../model/layout.ts';
import { wallName } from './say.ts';

/** `the outlet on the back wall`, `light "closet-light" on the ceiling`. A panel of wood is a fitting; this one is not. */
export function fixtureName({ kind, name, wall }: FixtureLayout): string {
  const plain = kind === 'panel' ? 'electrical panel' : kind;
  const what = name === kind ? `the ${plain}` : `${plain} "${name}"`;
  return `${what} on ${wall === undefined ? 'the ceiling' : wallName(wall)}`;
}
