/**
 * Translations that nobody sure of the trade in that language has confirmed. All tables, and sentences/catalogue/, are from memory of the trade and of the
 * national editions; these are the terms most worth a second look. DEVELOPERS.md asks for it.
 */
import type { Language } from '../reportOptions.js';

export const forReview: Readonly<Record<Exclude<Language, 'en'>, Readonly<Record<string, string>>>> = {
  de: {
    cautions: 'Safety text: wording of the national rules for live working and for lock-out.',
    'columns.nameplate': '"Typenschild"; a data sheet may be meant as well.',
    'sentences: guarded decision': '"Sicherheitsband" for guard band.',
    'instruments.reference': '"Referenzeinrichtung" against "Referenzzelle" or "Referenzsolarelement".',
    'sentences: Irradiance drift': '"Schwankung" against "Drift".',
    'sentences: knee, vertical and horizontal leg': '"Knie", "steiler Ast", "flacher Ast" of a curve.',
    'sentences: shunt': '"Nebenschluss" for the fault, "Parallelwiderstand" for the parameter.',
    'sentences: substring': '"Teilstrang" against the loanword "Substring".',
    'sentences: counter-check': '"Gegenmessung" for the sweep that shows that a repair holds.',
    'tests.meter': 'Reading of Voc and Isc by a multimeter.',
    'verdicts.conditional pass': 'Terms of the German edition of ILAC-G8.',
  },
  es: {
    cautions: 'Safety text: wording of the national rules for live working and for lock-out.',
    'columns.accuracy': '"exactitud" against "precisión".',
    'parameters.ff': '"Factor de forma" against "factor de llenado".',
    'sentences: counter-check': '"medida de comprobación" for the sweep that shows that a repair holds.',
    'sentences: knee': '"codo" against "rodilla" of a curve.',
    'sentences: layout': '"esquema" for the description of the columns of a table.',
    'sentences: shunt': '"derivación" for the fault beside "diodo de derivación" for the bypass diode.',
    'sentences: substring': '"subcadena" against "substring".',
    'sentences: sweep': '"medida" in sentences, "curva" in tables.',
    'states.cleared': '"descartado" for a module that was measured and found sound.',
    string: '"Cadena" against the loanword "string".',
    'verdicts.conditional pass': 'Terms of the Spanish edition of ILAC-G8.',
  },
  it: {
    cautions: 'Safety text: wording of the national rules for live working and for lock-out.',
    method: '"riportare" and "traslazione" for the translation of a curve.',
    'modules.cleared': '"scagionato" for a module that was measured and found sound.',
    'parameters.ff': '"Fattore di riempimento" against the English fill factor.',
    'sentences: Irradiance': '"Irraggiamento" against "irradianza".',
    'sentences: counter-check': '"misura di verifica" for the sweep that shows that a repair holds.',
    'sentences: layout': '"schema" for the description of the columns of a table.',
    'sentences: shunt': '"derivazione" for the fault, "resistenza parallelo" for the parameter.',
    'sentences: substring': '"sottostringa" against "substring".',
    'verdicts.conditional pass': 'Terms of the Italian edition of ILAC-G8.',
  },
  fr: {
    cautions: 'Safety text: wording of the national rules for live working and for "consignation".',
    'parameters.ff': '"Facteur de forme" against "facteur de remplissage".',
    'sentences: Irradiance': '"Éclairement" against "irradiance".',
    'sentences: counter-check': '"mesure de contrôle" for the sweep that shows that a repair holds.',
    'sentences: layout': '"disposition" for the description of the columns of a table.',
    'sentences: shunt': '"dérivation" for the fault, "résistance parallèle" for the parameter.',
    'sentences: substring': '"sous-chaîne" against "substring".',
    method: '"translation" against "transposition" of a curve.',
    'verdicts.conditional pass': 'Terms of the French edition of ILAC-G8.',
  },
};
