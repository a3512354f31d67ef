/**
 * Translations that nobody sure of the trade in that language has confirmed. All tables are from memory of the trade and of the
 * national editions; these are the terms most worth a second look. DEVELOPERS.md asks for it.
 */
import type { Language } from '../reportOptions.js';

export const forReview: Readonly<Record<Exclude<Language, 'en'>, Readonly<Record<string, string>>>> = {
  de: {
    cautions: 'Safety text: wording of the national rules for live working and for lock-out.',
    'columns.nameplate': '"Typenschild"; a data sheet may be meant as well.',
    'decisions.guarded': '"Sicherheitsband" for guard band.',
    'instruments.reference': '"Referenzeinrichtung" against "Referenzzelle" or "Referenzsolarelement".',
    'phrases.Irradiance drift': '"Schwankung" against "Drift".',
    'tests.meter': 'Reading of Voc and Isc by a multimeter.',
    'verdicts.conditional pass': 'Terms of the German edition of ILAC-G8.',
  },
  es: {
    cautions: 'Safety text: wording of the national rules for live working and for lock-out.',
    'columns.accuracy': '"exactitud" against "precisión".',
    'parameters.ff': '"Factor de forma" against "factor de llenado".',
    'states.cleared': '"descartado" for a module that was measured and found sound.',
    string: '"Cadena" against the loanword "string".',
    'verdicts.conditional pass': 'Terms of the Spanish edition of ILAC-G8.',
  },
  it: {
    cautions: 'Safety text: wording of the national rules for live working and for lock-out.',
    method: '"riportare" and "traslazione" for the translation of a curve.',
    'modules.cleared': '"scagionato" for a module that was measured and found sound.',
    'parameters.ff': '"Fattore di riempimento" against the English fill factor.',
    'phrases.Irradiance': '"Irraggiamento" against "irradianza".',
    'verdicts.conditional pass': 'Terms of the Italian edition of ILAC-G8.',
  },
  fr: {
    cautions: 'Safety text: wording of the national rules for live working and for "consignation".',
    'parameters.ff': '"Facteur de forme" against "facteur de remplissage".',
    'phrases.Irradiance': '"Éclairement" against "irradiance".',
    method: '"translation" against "transposition" of a curve.',
    'verdicts.conditional pass': 'Terms of the French edition of ILAC-G8.',
  },
};
