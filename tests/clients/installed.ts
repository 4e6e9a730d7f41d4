/**
 * The other clients that the server is tried with: a browser and a second editor, installed from Debian's packages
 * where that can be done from here. Run as a program it installs what is missing; tests only look.
 */
import { ensureChromium, findChromium, installDebian, onPath } from '../editor/install-host.ts';

/** With STORYPOLE_CLIENTS=all a client that is missing fails its tests, which are passed over otherwise. */
const isWanted = process.env.STORYPOLE_CLIENTS === 'all';

export interface Found {
  /** The program; empty where there is none. */
  readonly program: string;
  /** Whether its tests are to be passed over. */
  readonly missing: boolean;
  /** What a list of tests says of it. */
  readonly title: string;
}

function found(name: string, program: string | undefined): Found {
  const missing = program === undefined && !isWanted;
  return {
    program: program ?? '',
    missing,
    title: missing ? `${name} (not installed, so not tried: npm run test:clients installs it)` : name,
  };
}

export const browser = found('Chromium', findChromium());
export const neovim = found('Neovim', onPath('nvim'));

function install(): void {
  ensureChromium();
  if (onPath('nvim') === undefined) installDebian(['neovim']);
}

if (import.meta.main) {
  try {
    install();
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    if (isWanted) process.exitCode = 1;
  }
}
