/**
 * The other programs that are tried with what is made here: a browser, three more editors and a spreadsheet, installed
 * from Debian's packages where that can be done from here. Run as a program it installs what is missing; tests only look.
 */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
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
export const emacs = found('Emacs with eglot', emacsWithEglot());

/** From 29 on Emacs brings eglot along; older ones have it from a package. */
function emacsWithEglot(): string | undefined {
  const program = onPath('emacs');
  if (program === undefined) return undefined;
  const asked = "(progn (package-initialize) (kill-emacs (if (require 'eglot nil t) 0 1)))";
  return spawnSync(program, ['-q', '--batch', '--eval', asked]).status === 0 ? program : undefined;
}

/** ALE lies where `packadd` finds it. */
export const vim = found('Vim with ALE', existsSync('/usr/share/vim-ale') ? onPath('vim') : undefined);
export const office = found('LibreOffice', onPath('soffice') ?? onPath('localc'));

function install(): void {
  ensureChromium();
  if (onPath('nvim') === undefined) installDebian(['neovim']);
  if (onPath('emacs') === undefined) installDebian(['emacs-nox']);
  if (emacsWithEglot() === undefined) installDebian(['elpa-eglot']);
  if (vim.program === '') installDebian(['vim', 'vim-ale']);
  if (onPath('soffice') === undefined) installDebian(['libreoffice-calc-nogui']);
}

if (import.meta.main) {
  try {
    install();
  } catch (error) {
    process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
    if (isWanted) process.exitCode = 1;
  }
}
