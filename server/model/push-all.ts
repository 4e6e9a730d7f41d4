/** As push does with a spread, of any number: no call takes a hundred thousand arguments. */
export function pushAll<T>(list: T[], more: readonly T[]): void {
  for (const one of more) list.push(one);
}
