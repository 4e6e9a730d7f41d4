/** `the back wall`, or `wall "alcove"` for one that has a name of its own. */
export function wallName(name: string): string {
  return ['left', 'back', 'right', 'front'].includes(name) ? `the ${name} wall` : `wall "${name}"`;
}
