/** Each kind of request once, on the demo. */
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import {
  CodeActionRequest,
  CompletionRequest,
  DefinitionRequest,
  DocumentFormattingRequest,
  DocumentHighlightRequest,
  DocumentLinkRequest,
  DocumentOnTypeFormattingRequest,
  DocumentRangeFormattingRequest,
  DocumentSymbolRequest,
  FoldingRangeRequest,
  HoverRequest,
  InlayHintRequest,
  PrepareRenameRequest,
  ReferencesRequest,
  RenameRequest,
  SelectionRangeRequest,
  SemanticTokensRequest,
  SignatureHelpRequest,
  WorkspaceSymbolRequest,
  type CodeAction,
  type CompletionItem,
  type DocumentSymbol,
  type Location,
  type MarkupContent,
} from 'vscode-languageserver-protocol/node';
import { describe, expect, it } from 'vitest';
import { uriOf, type Client } from './client.js';
import { serveBesideDemo } from './served.js';

let campaign: string;
const served = serveBesideDemo(async ({ folder, client }) => {
  campaign = await client.open(path.join(folder, 'campaign.sweepbook'));
});

const ask: Client['connection']['sendRequest'] = (...args: unknown[]) =>
  (served.client.connection.sendRequest as (...all: unknown[]) => Promise<never>)(...args);
const inFolder = (name: string): string => uriOf(path.join(served.folder, name));
const scratch = (name: string, text: string): Promise<string> =>
  served.client.open(path.join(served.folder, name), text);

describe('reading', () => {
  it('hovers with the verdict of a sweep, in Markdown', async () => {
    const hover = await ask(HoverRequest.type, served.client.at(campaign, 'sweep 1.03 at', 7));
    const { kind, value } = hover!.contents as MarkupContent;
    expect(kind).toBe('markdown');
    expect(value).toMatch(/fail/);
    const { start } = served.client.rangeOf(campaign, '1.03 at 2026-05-14 11:42');
    expect(hover!.range!.start).toEqual(start);
  });

  it('goes from a name to the file that gives it', async () => {
    const found = (await ask(DefinitionRequest.type, served.client.at(campaign, 'T1, RC1', 1))) as Location;
    expect(found.uri).toMatch(/\/(array|modules)\.sweepbook$/);
    expect(await ask(DefinitionRequest.type, served.client.at(campaign, 'sweeps/1.01.csv', 3))).toMatchObject(
      {
        uri: inFolder('sweeps/1.01.csv'),
      },
    );
    expect(await ask(DefinitionRequest.type, served.client.at(campaign, '# Harrow', 4))).toBeNull();
  });

  it('outlines the campaign', async () => {
    const params = { textDocument: { uri: campaign } };
    const symbols = (await ask(DocumentSymbolRequest.type, params)) as DocumentSymbol[];
    expect(symbols[0]).toMatchObject({ name: 'harrow-fen-2026', detail: expect.stringMatching(/fail/) });
    expect(symbols.map(({ name }) => name)).toContain('1.03/1-9');
  });

  it('shows verdicts behind sweeps', async () => {
    const range = { start: { line: 0, character: 0 }, end: { line: 40, character: 0 } };
    const hints = await ask(InlayHintRequest.type, { textDocument: { uri: campaign }, range });
    const { end } = served.client.rangeOf(campaign, 'sweep 1.03 at 2026-05-14 11:42');
    expect(hints).toContainEqual(
      expect.objectContaining({ position: end, label: expect.stringMatching(/fail, Pmax/) }),
    );
  });
});

describe('writing', () => {
  it('offers keywords, whole blocks with tab stops, names and paths', async () => {
    const uri = await scratch(
      'new.sweepbook',
      'include "array.sweepbook"\n\nsw\nsweep 1.01\n  with \n  data ""\n',
    );
    const offered = async (part: string, into: number): Promise<CompletionItem[]> =>
      (await ask(CompletionRequest.type, served.client.at(uri, part, into))) as CompletionItem[];
    await served.client.said(uri, () => true);
    const blocks = await offered('sw\n', 2);
    expect(blocks).toContainEqual(expect.objectContaining({ label: 'sweep', detail: expect.any(String) }));
    const whole = blocks.find(({ label }) => label === 'sweep …')!;
    expect(whole).toMatchObject({ insertTextFormat: 2, filterText: 'sweep' });
    expect((whole.textEdit as { newText: string }).newText).toMatch(/\$\{?1/);
    expect((await offered('  with ', 7)).map(({ label }) => label)).toContain('T1');
    expect((await offered('data ""', 6)).map(({ label }) => label)).toContain('sweeps/1.03-first.csv');
    await served.client.close(uri);
  });

  it('says what a property wants', async () => {
    const help = await ask(SignatureHelpRequest.type, served.client.at(campaign, 'pin-shadow  28 mm', 13));
    const { label, parameters } = help!.signatures[0]!;
    expect(label).toMatch(/^pin-shadow/);
    const [start, end] = parameters![help!.activeParameter!]!.label as [number, number];
    expect(end).toBeGreaterThan(start);
  });

  it('formats whole, in part and as typed, and a second time changes nothing', async () => {
    const text =
      'plane   south\n tilt 10 deg   # flat\n      azimuth   180 deg\n\nplane north\n tilt 5 deg\n';
    const uri = await scratch('untidy.sweepbook', text);
    const textDocument = { uri };
    const options = { tabSize: 8, insertSpaces: false };
    const whole = served.client.edited(
      uri,
      await ask(DocumentFormattingRequest.type, { textDocument, options }),
    );
    expect(whole).not.toBe(text);
    expect(whole.replace(/\s+/g, ' ')).toBe(text.replace(/\s+/g, ' '));
    const range = served.client.rangeOf(uri, 'plane north\n tilt 5 deg\n');
    const part = await ask(DocumentRangeFormattingRequest.type, { textDocument, range, options });
    expect(served.client.edited(uri, part).startsWith(text.slice(0, text.indexOf('plane north')))).toBe(true);
    expect(part).not.toEqual([]);
    const typed = { textDocument, position: { line: 2, character: 0 }, ch: '\n', options };
    const asTyped = served.client.edited(uri, await ask(DocumentOnTypeFormattingRequest.type, typed));
    expect(asTyped.split('\n')[2]).toBe('      azimuth   180 deg');
    expect(asTyped.split('\n')[1]).toBe(whole.split('\n')[1]);
    const tidy = await scratch('tidy.sweepbook', whole);
    expect(await ask(DocumentFormattingRequest.type, { textDocument: { uri: tidy }, options })).toEqual([]);
    for (const each of [uri, tidy]) await served.client.close(each);
  });

  it('mends what is wrong, converts units, and mends all on saving', async () => {
    const uri = await scratch('wrong.sweepbook', 'module M\n  Pmax 400,5 W\n  Voc 30.5 V\n');
    const diagnostics = await served.client.said(uri, (ids) => ids.includes('value/decimal-comma'));
    const textDocument = { uri };
    const comma = diagnostics.find(({ code }) => code === 'value/decimal-comma')!;
    const actions = async (params: { range: typeof comma.range; only?: string[] }): Promise<CodeAction[]> => {
      const { range, only } = params;
      return (await ask(CodeActionRequest.type, {
        textDocument,
        range,
        context: { diagnostics: [comma], only },
      })) as CodeAction[];
    };
    const [mend] = await actions({ range: comma.range, only: ['quickfix'] });
    expect(mend).toMatchObject({ kind: 'quickfix', isPreferred: true, diagnostics: [comma] });
    expect(served.client.edited(uri, mend!.edit!.changes![uri])).toContain('Pmax 400.5 W');
    const volts = await actions({ range: served.client.rangeOf(uri, '30.5'), only: ['refactor'] });
    expect(volts.map(({ title }) => title)).toContain('Convert to 0.0305 kV');
    const [all] = await actions({ range: comma.range, only: ['source.fixAll'] });
    expect(all).toMatchObject({ kind: 'source.fixAll.sweepbook' });
    await served.client.close(uri);
  });
});

describe('rewriting', () => {
  it('removes a block that nothing uses, at the end of the text too, and splits a run', async () => {
    const text =
      'campaign c\n\nstring 9.01 .. 9.04\n  modules 18 x M\n\nsweep 9.02 at 2026-05-14 11:22\n\ntracer T8';
    const uri = await scratch('run.sweepbook', text);
    const diagnostics = await served.client.said(uri, (ids) => ids.includes('name/unused'));
    const unused = diagnostics.find(({ code }) => code === 'name/unused')!;
    expect(unused).toMatchObject({ severity: 4, tags: [1] });
    const actions = async (range: typeof unused.range): Promise<CodeAction[]> =>
      (await ask(CodeActionRequest.type, {
        textDocument: { uri },
        range,
        context: { diagnostics: [] },
      })) as CodeAction[];
    const remove = (await actions(unused.range)).find(({ title }) => title === 'Remove the block')!;
    expect(served.client.edited(uri, remove.edit!.changes![uri])).toBe(text.replace('tracer T8', ''));
    const split = (await actions(served.client.rangeOf(uri, '9.02 at'))).find(
      ({ kind }) => kind === 'refactor.rewrite',
    )!;
    expect(split.title).toBe('Give 9.02 a block of its own');
    expect(served.client.edited(uri, split.edit!.changes![uri])).toContain('string 9.02\n  modules 18 x M\n');
    await served.client.close(uri);
  });
});

describe('names', () => {
  it('finds every place of a name, in files that are not open too', async () => {
    const params = { ...served.client.at(campaign, 'T1, RC1', 1), context: { includeDeclaration: true } };
    const places = (await ask(ReferencesRequest.type, params))!;
    expect(new Set(places.map(({ uri }) => uri)).size).toBe(2);
    const own = await ask(DocumentHighlightRequest.type, served.client.at(campaign, 'T1, RC1', 1));
    expect(own).toHaveLength(places.filter(({ uri }) => uri === campaign).length);
  });

  it('renames across two files, and the campaign comes out as before', async () => {
    const place = served.client.at(campaign, 'T1, RC1', 1);
    expect(await ask(PrepareRenameRequest.type, place)).toMatchObject({ placeholder: 'T1' });
    const { changes } = (await ask(RenameRequest.type, { ...place, newName: 'T9' }))!;
    const [other] = Object.keys(changes!).filter((uri) => uri !== campaign);
    expect(Object.keys(changes!)).toHaveLength(2);
    const before = await served.client.said(campaign, () => true);
    // One file is open with the change and the other not yet: every sweep names a tracer that there is not.
    await served.client.apply(campaign, changes![campaign]!);
    await served.client.said(campaign, (ids) => ids.filter((id) => id === 'name/unknown').length > 10);
    await served.client.open(fileURLToPath(other!));
    await served.client.apply(other!, changes![other!]!);
    const after = await served.client.said(campaign, (ids) => !ids.includes('name/unknown'));
    expect(after.map(({ code }) => code)).toEqual(before.map(({ code }) => code));
    expect(served.client.textOf(campaign)).not.toMatch(/T1[,\n]/);
  });

  it('refuses with the reason', async () => {
    const place = served.client.at(campaign, 'T9, RC1', 1);
    await expect(ask(RenameRequest.type, { ...place, newName: 'RC1' })).rejects.toThrow(/RC1.* is taken/);
    await expect(
      ask(PrepareRenameRequest.type, served.client.at(campaign, 'irradiance  806')),
    ).rejects.toThrow(/Only names can be renamed/);
  });

  it('finds names of the workspace by a few letters', async () => {
    const symbols = (await ask(WorkspaceSymbolRequest.type, { query: 'KF' }))!;
    expect(symbols[0]).toMatchObject({ location: { uri: inFolder('modules.sweepbook') } });
  });
});

describe('structure', () => {
  it('links, folds, grows selections and tells tokens apart', async () => {
    const textDocument = { uri: campaign };
    const links = (await ask(DocumentLinkRequest.type, { textDocument }))!;
    expect(links[0]).toMatchObject({ target: inFolder('modules.sweepbook') });
    const folds = (await ask(FoldingRangeRequest.type, { textDocument }))!;
    expect(folds).toContainEqual({ startLine: 5, endLine: 6, kind: 'imports' });
    const { position } = served.client.at(campaign, '806 W/m2', 1);
    const [grown] = (await ask(SelectionRangeRequest.type, { textDocument, positions: [position] }))!;
    expect(grown!.range).toEqual(served.client.rangeOf(campaign, '806'));
    const { data } = (await ask(SemanticTokensRequest.type, { textDocument }))!;
    const { legend } = served.client.initialized.capabilities.semanticTokensProvider!;
    // The first words: include "modules.sweepbook"
    const { start } = served.client.rangeOf(campaign, 'include');
    expect(data.slice(0, 3)).toEqual([start.line, start.character, 'include'.length]);
    expect(legend.tokenTypes[data[3]!]).toBe('keyword');
    expect(data.length % 5).toBe(0);
  });
});
