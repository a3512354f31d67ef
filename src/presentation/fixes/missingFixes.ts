/** Fixes that write what is missing: properties, blocks, files. Numbers that only a label or an instrument tells stay empty. */
import { stringOf } from '../../campaign/names.js';
import { findProperty, type PropertyKeyword } from '../../campaign/keywords.js';
import { nearest } from '../../campaign/nearest.js';
import type { PlacedBlock } from '../../syntax/document.js';
import { blockSnippets, criteriaSnippet, moduleSnippet } from '../blockSnippets.js';
import { rankedTables } from '../completionPaths.js';
import { nameAt } from '../nameOccurrences.js';
import { tabStop } from '../snippetText.js';
import {
  addProperties,
  insertBlock,
  markedText,
  propertyLine,
  removeLines,
  replaceMarked,
  type Fix,
  type Fixer,
  type FixInput,
} from './fix.js';
import { startsOf } from './valueFixes.js';

/** All that the block lacks for its computation. */
export const missingProperties: Fixer = (input) => {
  const { keyword, placed } = input;
  const missing = (keyword?.properties ?? []).filter(
    ({ name, requiredFor, unless }) =>
      requiredFor !== undefined &&
      !propertyLine(placed, name) &&
      !(unless !== undefined && propertyLine(placed, unless)),
  );
  return addFix(input, missing);
};

/** One edit for all of them, each with a tab stop for its value. */
function addFix(input: FixInput, missing: readonly PropertyKeyword[]): Fix[] {
  if (missing.length === 0) return [];
  let stop = 0;
  const lines = missing.map(({ name, form }) => {
    const [, text = tabStop(1)] = startsOf(form, input.evaluation)[0] ?? [];
    const numbered = text.replace(/\$(\{?)\d+/g, (_, brace: string) => `$${brace}${++stop}`);
    return [name, numbered] as const;
  });
  const title = `Add ${missing.map(({ name }) => `\`${name}\``).join(', ')}`;
  return [
    { title, edits: [addProperties(input.problem.file, input.placed, lines, true)], isPreferred: true },
  ];
}

const named = (block: string, ...names: readonly string[]): PropertyKeyword[] =>
  names.flatMap((name) => findProperty(block, name) ?? []);

export const missingConditions: Fixer = (input) => {
  const wanted = named(input.keyword?.name ?? '', 'irradiance', 'temperature');
  return addFix(
    input,
    wanted.filter(({ name }) => !propertyLine(input.placed, name)),
  );
};

export const missingRear: Fixer = (input) => addFix(input, named('sweep', 'rear'));

export const missingParts: Fixer = (input) => {
  const wanted = named('reference', 'alignment', 'spectral');
  return input.keyword?.name === 'reference'
    ? addFix(
        input,
        wanted.filter(({ name }) => !propertyLine(input.placed, name)),
      )
    : [];
};

/** In the block of the module, where that stands in this file. */
export const missingBifaciality: Fixer = (input) => {
  const { evaluation, placed, problem, document } = input;
  const sweep = evaluation.sweeps.find(
    ({ block }) => block.file === problem.file && block.startLine === placed.startLine,
  );
  const module = [...evaluation.campaign.modules.values()].find(
    ({ record }) => record === sweep?.target.module,
  );
  const place =
    module && module.block.file === problem.file ? document.blockAt(module.block.startLine) : undefined;
  if (!module || !place) return [];
  const edit = addProperties(problem.file, place, [['bifaciality', `${tabStop(1)} %`]], true);
  return [{ title: `Add \`bifaciality\` to \`${module.record.name.text}\``, edits: [edit] }];
};

/** The tables at hand, the likeliest first. */
export const missingData: Fixer = async (input) => {
  const { problem, placed, evaluation, host } = input;
  const open = {
    file: problem.file,
    lineAt: () => '',
    resolve: (path: string) => host.resolve(problem.file, path),
  };
  const address = placed.block.header?.tokens[1]?.text;
  const tables = rankedTables(await host.paths('table', problem.file), evaluation, open, address).slice(0, 4);
  const fixes = tables.map(({ path }) => ({
    title: `Write \`data "${path}"\``,
    edits: [addProperties(problem.file, placed, [['data', `"${path}"`]])],
  }));
  const points = addProperties(problem.file, placed, [['points', `V, A\n    ${tabStop(1)}`]], true);
  return [...fixes, { title: 'Write the points here', edits: [points] }];
};

/** Points beside a table: the table counts, so the points go. */
export const dataTwice: Fixer = ({ problem, placed }) => {
  const line = propertyLine(placed, 'points');
  if (!line) return [];
  let last = line.number;
  for (const each of placed.block.lines.slice(line.number + 1)) {
    if (each.tokens.length === 0) continue;
    if (!/^[+\-.]?\d/.test(each.tokens[0]!.text)) break;
    last = each.number;
  }
  const edit = removeLines(problem.file, placed.startLine + line.number, placed.startLine + last);
  return [{ title: 'Remove the points', edits: [edit] }];
};

/** The block that gives the name, before the block that refers to it. */
export const unknownName: Fixer = (input) => {
  const { document, problem } = input;
  const name = nameAt(document, problem.range.start);
  return (name?.kind.split(' or ') ?? []).map((kind) => newBlockFix(input, kind, name!.text));
};

/** A row of a table names a string that is not there. */
export const unknownAddress: Fixer = (input) => {
  const sweep = input.evaluation.sweeps.find(({ problems }) => problems.includes(input.problem));
  const string = sweep && stringOf(sweep.address);
  return string === undefined ? [] : [newBlockFix(input, 'string', string)];
};

function newBlockFix(input: FixInput, kind: string, name: string): Fix {
  const { problem, placed, document, evaluation } = input;
  const lines =
    kind === 'module'
      ? moduleSnippet(name).lines
      : kind === 'criteria'
        ? criteriaSnippet(name).lines
        : blockSnippets({ campaign: evaluation.campaign })
            .find(({ block }) => block === kind)!
            .lines.map((line, index) => (index === 0 ? line.replace(/\$(\{1[^}]*\}|1)/, name) : line));
  return {
    title: `Create the ${kind} block \`${name}\``,
    edits: [insertBlock(problem.file, placed, document, lines, true)],
  };
}

export const missingCriteria: Fixer = (input) => {
  const { problem, placed, document } = input;
  const edit = insertBlock(problem.file, placed, document, criteriaSnippet('acceptance').lines, true);
  return [{ title: 'Create a `criteria` block with the usual limits', edits: [edit], isPreferred: true }];
};

/** One of several, named once for the whole campaign where it has a block in this file. */
export const chooseCriteria: Fixer = (input) => {
  const { evaluation, document, problem } = input;
  const { campaign } = evaluation;
  const whole =
    campaign.campaign?.block.file === problem.file
      ? document.blockAt(campaign.campaign.block.startLine)
      : undefined;
  return choose(input, 'criteria', [...campaign.criteria.keys()], whole);
};

export const choosePlane: Fixer = (input) =>
  choose(input, 'plane', [...input.evaluation.campaign.planes.keys()]);
export const chooseSite: Fixer = (input) =>
  choose(input, 'site', [...input.evaluation.campaign.sites.keys()]);

function choose(
  input: FixInput,
  property: string,
  names: readonly string[],
  placed: PlacedBlock = input.placed,
): Fix[] {
  return names.slice(0, 8).map((name) => ({
    title: `Write \`${property} ${name}\`${placed === input.placed ? '' : ' in the campaign'}`,
    edits: [addProperties(input.problem.file, placed, [[property, name]])],
  }));
}

/** A path that leads nowhere: the file at hand whose name is nearest. */
export const missingFile =
  (kind: 'table' | 'campaign'): Fixer =>
  async (input) => {
    const { problem, host } = input;
    const written = markedText(input).replace(/^"|"$/g, '');
    const paths = await host.paths(kind, problem.file);
    const sameName = paths.filter((path) => baseName(path) === baseName(written));
    const near =
      nearest(written, paths) ??
      paths.find((path) => baseName(path) === nearest(baseName(written), paths.map(baseName)));
    const found = [...new Set([...sameName, ...(near === undefined ? [] : [near])])].slice(0, 3);
    return found.map((path) => ({ ...replaceMarked(input, `"${path}"`), isPreferred: found.length === 1 }));
  };

const baseName = (path: string): string => path.slice(path.lastIndexOf('/') + 1);

export const removeInclude: Fixer = ({ problem, placed }) => [
  { title: 'Remove the line', edits: [removeLines(problem.file, placed.startLine)] },
];
