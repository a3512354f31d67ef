import { semanticTypes, type SemanticType } from '../presentation/semanticTokens.js';

/** The protocol's own types, which every client colours. */
const standardTypes: Readonly<Record<SemanticType, string>> = {
  keyword: 'keyword',
  property: 'property',
  campaignName: 'class',
  deviceAddress: 'variable',
  quantity: 'number',
  quantityUnit: 'type',
  string: 'string',
  enumMember: 'enumMember',
};

/** In the order in which tokens count them. */
export const semanticNames: readonly string[] = semanticTypes.map((type) => standardTypes[type]);
