/** Colour, where it is wanted. */
import { styleText } from 'node:util';

export type Paint = (style: 'red' | 'yellow' | 'cyan' | 'green' | 'bold' | 'dim', text: string) => string;

export const plain: Paint = (_, text) => text;

const coloured: Paint = (style, text) => styleText(style, text, { validateStream: false });

/** `asked` is what --color and --no-color say; without them a terminal gets colour unless NO_COLOR speaks against it. */
export function paintFor(
  asked: boolean | undefined,
  stream: { readonly isTTY?: boolean },
  environment: Readonly<Record<string, string | undefined>>,
): Paint {
  const wanted = asked ?? (stream.isTTY === true && !environment.NO_COLOR && environment.TERM !== 'dumb');
  return wanted ? coloured : plain;
}
