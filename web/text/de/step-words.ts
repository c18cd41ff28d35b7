import type { StepWords } from '../../../engine/index.ts';

const HITCH = 'über {carrier} legen, dahinter herum, durch die Schlaufe heraus und anziehen';

/** The words of the work order's steps, in German. */
export const deStepWords: StepWords = {
  ordinal: (number) => `${number}.`,
  row: 'Reihe {row}',
  repeatRow: 'Rapport {repeat}, Reihe {row}',
  leadInRow: 'Vorlauf, Reihe {row}',
  endRow: 'Ende, Reihe {row}',
  knots: {
    f: 'Vorwärtsknoten',
    b: 'Rückwärtsknoten',
    fb: 'Vorwärts-Rückwärts-Knoten',
    bf: 'Rückwärts-Vorwärts-Knoten',
  },
  fromLeft: '{first} und {second} von links',
  fromRight: '{first} und {second} von rechts',
  numberedString: '{colour} Nummer {number}',
  namelessString: 'Nummer {number}',
  short: '{where}: {knot} mit {knotting} über {carrier}, {places}.',
  longPickUp:
    '{where}: {knot} mit {knotting} über {carrier}, {places}: {knotting} aufnehmen, {carrier} gerade halten und knüpfen: {hitches}.',
  longGoOn:
    '{where}: {knot} mit {knotting} über {carrier}, {places}: mit {knotting} weiter, {carrier} gerade halten und knüpfen: {hitches}.',
  hitches: {
    f: `einen halben Schlag nach rechts (${HITCH}), dann noch einen ebensolchen, sodass {knotting} rechts endet`,
    b: `einen halben Schlag nach links (${HITCH}), dann noch einen ebensolchen, sodass {knotting} links endet`,
    fb: `einen halben Schlag nach rechts (${HITCH}), dann einen zurück nach links, sodass {knotting} links endet, wo es begann`,
    bf: `einen halben Schlag nach links (${HITCH}), dann einen zurück nach rechts, sodass {knotting} rechts endet, wo es begann`,
  },
};
