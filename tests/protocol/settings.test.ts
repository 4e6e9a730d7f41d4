/** What people can set, and what package.json promises of it. */
import { describe, expect, it } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { tokenTypes } from '../../server/language/semantic-tokens.ts';
import { defaultSettings, settingsFrom } from '../../server/protocol/settings.ts';

describe('settings', () => {
  it('are the defaults where nothing, or nonsense, is said', () => {
    for (const said of [
      undefined,
      null,
      3,
      'on',
      [],
      {},
      { inlayHints: 7, codeLens: [true] },
      { other: { widths: false } },
    ])
      expect(settingsFrom(said)).toEqual(defaultSettings);
  });

  it('take what is known and of the right type, one by one', () => {
    const said = { inlayHints: { widths: false, heights: 'no', unheard: false }, codeLens: { uses: false } };
    expect(settingsFrom(said)).toEqual({
      inlayHints: { ...defaultSettings.inlayHints, widths: false },
      codeLens: { ...defaultSettings.codeLens, uses: false },
    });
    expect(settingsFrom(JSON.parse('{ "__proto__": { "inlayHints": { "widths": false } } }'))).toEqual(defaultSettings);
  });

  it('are all described in package.json, with the same defaults', () => {
    const described = Object.entries(manifest.contributes.configuration.properties)
      .filter(([key]) => /^storypole\.(inlayHints|codeLens)\./.test(key))
      .map(([key, { default: standard }]) => [key, standard]);
    const known = Object.entries(defaultSettings).flatMap(([group, own]) =>
      Object.entries(own as Record<string, boolean>).map(([key, value]) => [`storypole.${group}.${key}`, value]),
    );
    expect(described).toEqual(known);
  });

  it('has scopes only for tokens that there are', () => {
    const [scopes] = manifest.contributes.semanticTokenScopes;
    for (const type of Object.keys(scopes?.scopes ?? {})) expect(tokenTypes).toContain(type);
  });
});
