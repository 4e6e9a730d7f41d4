/** All that the server offers; what belongs together is in one file of features/, and server/language answers it. */
import type { Connection, ServerCapabilities } from 'vscode-languageserver';
import { colouring } from './features/colouring.ts';
import { completing } from './features/completing.ts';
import { drawing } from './features/drawing.ts';
import type { Asking, Feature } from './features/feature.ts';
import { formatting } from './features/formatting.ts';
import { hinting } from './features/hinting.ts';
import { importing } from './features/importing.ts';
import { leading } from './features/leading.ts';
import { lensing } from './features/lensing.ts';
import { mending } from './features/mending.ts';
import { naming } from './features/naming.ts';
import { outline } from './features/outline.ts';
import { reading } from './features/reading.ts';
import { workplace } from './features/workplace.ts';

const features: readonly Feature[] = [
  reading,
  completing,
  outline,
  mending,
  naming,
  leading,
  formatting,
  workplace,
  importing,
  drawing,
  colouring,
  hinting,
  lensing,
];

export const capabilities: ServerCapabilities = Object.assign({}, ...features.map((feature) => feature.capabilities));

export function addFeatures(connection: Connection, asking: Asking): void {
  for (const feature of features) feature.add(connection, asking);
}
