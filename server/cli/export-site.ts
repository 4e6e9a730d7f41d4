export async function siteFile(..._: unknown[]): Promise<string> {
  return '';
}
