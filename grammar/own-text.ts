/**
 * The same text in a string of its own. What is cut out of a string shares its characters and keeps all of them alive:
 * right for what goes with the whole, wrong for what outlives it. Putting a character in front makes the engine write
 * the text anew, half a pair of surrogates as it is, in half the time of a way through JSON; `tests/grammar/forgotten`
 * shows that it does.
 */
export function ownText(text: string): string {
  return ` ${text}`.slice(1);
}
