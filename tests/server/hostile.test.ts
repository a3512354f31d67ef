/**
 * The built server on texts that try to do something or are not what they seem: it answers whatever is asked at any place of them,
 * its messages are text alone, and it never dies.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import {
  CodeActionRequest,
  CompletionRequest,
  DefinitionRequest,
  DocumentFormattingRequest,
  DocumentHighlightRequest,
  DocumentLinkRequest,
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
} from 'vscode-languageserver-protocol/node';
import { describe, expect, it } from 'vitest';
import { everyField } from '../hostile/everyField.js';
import { payloads } from '../hostile/payloads.js';
import { serveBesideDemo } from './served.js';

const served = serveBesideDemo();

/** Asks everything at a place; a request that is refused answers why, which is an answer too. */
async function askAll(uri: string, line: number, character: number): Promise<unknown[]> {
  const textDocument = { uri };
  const position = { line, character };
  const place = { textDocument, position };
  const range = { start: position, end: position };
  const { connection } = served.client;
  const asked = [
    connection.sendRequest(HoverRequest.type, place),
    connection.sendRequest(CompletionRequest.type, place),
    connection.sendRequest(SignatureHelpRequest.type, place),
    connection.sendRequest(DefinitionRequest.type, place),
    connection.sendRequest(ReferencesRequest.type, { ...place, context: { includeDeclaration: true } }),
    connection.sendRequest(DocumentHighlightRequest.type, place),
    connection.sendRequest(PrepareRenameRequest.type, place),
    connection.sendRequest(RenameRequest.type, { ...place, newName: 'renamed' }),
    connection.sendRequest(SelectionRangeRequest.type, { textDocument, positions: [position] }),
    connection.sendRequest(CodeActionRequest.type, { textDocument, range, context: { diagnostics: [] } }),
  ];
  return (await Promise.allSettled(asked)).map((one) =>
    one.status === 'fulfilled' ? one.value : String(one.reason),
  );
}

async function askOfWhole(uri: string, lines: number): Promise<unknown[]> {
  const textDocument = { uri };
  const range = { start: { line: 0, character: 0 }, end: { line: lines, character: 0 } };
  const options = { tabSize: 2, insertSpaces: true };
  const { connection } = served.client;
  return Promise.all([
    connection.sendRequest(DocumentSymbolRequest.type, { textDocument }),
    connection.sendRequest(SemanticTokensRequest.type, { textDocument }),
    connection.sendRequest(DocumentLinkRequest.type, { textDocument }),
    connection.sendRequest(FoldingRangeRequest.type, { textDocument }),
    connection.sendRequest(InlayHintRequest.type, { textDocument, range }),
    connection.sendRequest(DocumentFormattingRequest.type, { textDocument, options }),
    connection.sendRequest(WorkspaceSymbolRequest.type, { query: '' }),
  ]);
}

describe.each(Object.entries(payloads))('%s in each text', (name, text) => {
  it('is answered at every line, and leads nowhere', async () => {
    const folder = path.join(served.folder, `hostile-${Object.keys(payloads).indexOf(name)}`);
    mkdirSync(folder);
    const { files, root } = everyField(text);
    for (const [file, content] of Object.entries(files)) writeFileSync(path.join(folder, file), content);
    const uri = await served.client.open(path.join(folder, root.replace(/\p{Cs}/gu, '\ufffd')), files[root]);
    const lines = files[root]!.split('\n');
    const links = (await askOfWhole(uri, lines.length))[2] as readonly { target?: string }[] | null;
    for (const { target } of links ?? []) expect(target).toMatch(/^file:/);
    for (const [line, content] of lines.entries()) {
      if (content.startsWith('#') && line > 0) continue;
      for (const character of [2, content.indexOf('"') + 1])
        expect(await askAll(uri, line, character)).toHaveLength(10);
    }
    await served.client.close(uri);
  });
});

describe('a text that is not what it seems', () => {
  it.each<[string, string]>([
    ['nothing at all', ''],
    ['zero bytes', '\0'.repeat(2_000)],
    [
      'half of a pair of code units',
      'campaign c\nnote S "\ud800"\nsweep S at 2026-05-14 11:42\n  data "\udc00.csv"\n',
    ],
    ['a word of a hundred thousand characters', 'x'.repeat(100_000)],
    ['a quote that is never closed', 'campaign "c\nnote S "\n'],
    [
      'words that objects have',
      'string __proto__\n  modules 2 x constructor\nmodule constructor\nsweep toString at 2026-05-14 11:42\n',
    ],
    ['a run of a hundred million strings', 'string 1.01 .. 1.99999999\n  modules 2 x M\n'],
    [
      'numbers beyond any number',
      'module M\n  Pmax 1e308 W\n  Voc 1e-320 V\n  Isc NaN A\n  beta Infinity %/K\n',
    ],
    ['an include of itself', 'include "odd.sweepbook"\n'],
    ['lines that end in every way', 'campaign c\r\nnote S "a"\rnote S "b"\n\u2028note S "c"'],
  ])('%s', async (_name, text) => {
    const uri = await served.client.open(path.join(served.folder, 'odd.sweepbook'), text);
    expect(await askOfWhole(uri, text.split('\n').length)).toHaveLength(7);
    const lines = text.split('\n').slice(0, 5);
    for (const line of lines.keys())
      for (const character of [0, 3, 12, 1e6]) expect(await askAll(uri, line, character)).toHaveLength(10);
    expect(await askAll(uri, 1e9, 0)).toHaveLength(10);
    await served.client.close(uri);
  });
});
