/** Paths as a `use` may write them: relative, and the same file on every system that a project is checked out on. */

/** Names that Windows keeps for devices, whatever comes after a dot. */
export const deviceName = /^(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³]|conin\$|conout\$|clock\$)(\.|$)/i;

/** Why it is none of them, after the path; undefined where it is one. */
export function flawOf(written: string): string | undefined {
  if (/\p{Cc}/u.test(written)) return 'holds a character that is in no path';
  if (/^[a-z][a-z0-9+.-]+:/i.test(written)) return 'is an address, and a path is wanted';
  if (/^[\\/]{2}/.test(written)) return 'leads to another machine';
  if (/^[a-z]:/i.test(written)) return 'begins with a drive, which is there on one machine alone';
  if (/^[\\/]/.test(written)) return 'begins at the top of the disk, which is another on each machine';
  if (/[:*?<>|]/.test(written)) return `holds "${/[:*?<>|]/.exec(written)?.[0]}", which Windows lets be in no name`;
  for (const name of written.split(/[\\/]/)) {
    if (name === '.' || name === '..' || name === '') continue;
    if (deviceName.test(name)) return `holds "${name}", which is a device on Windows`;
    if (/[. ]$/.test(name))
      return `holds a name that ends in a ${name.endsWith('.') ? 'dot' : 'space'}, which Windows leaves out`;
  }
  return undefined;
}
