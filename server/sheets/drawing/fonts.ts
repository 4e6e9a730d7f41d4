/** The font of drawings and sheets. */
import { capital } from './letters.ts';

/** Files of the font, beside the program. */
export const fontFiles = { plain: 'DejaVuSansCondensed.ttf', bold: 'DejaVuSansCondensed-Bold.ttf' } as const;

/** Size of the font in which a capital letter is so high; of the same unit. */
export function heightToSize(height: number): number {
  return height / capital;
}
