/** What is needed in all and how sure it is, in English: fetched with the panels and with the paper. */
export const enDoubt = {
  'cut.totals': 'Thread in all',
  'cut.total': '{pieces} {pieces:cord/cords}, {length}',
  'cut.skeins': '{skeins} {skeins:skein/skeins}',
  'cut.bandLength': 'Length, first row to last',
  'doubt.is': '{length} ± {off}',
  'doubt.needs': 'needs {needs}',
  'doubt.means':
    '± means: 19 of 20 keychains need a length within it. If one cord needs more, so do the others: all share one gauge.',
  'doubt.prior':
    'Nothing is measured, so lengths are estimated: two turns round the carrier for each knot, and a row 1.15 times as high as a string is wide. ± allows for different hands and threads (our own assumption). The handbook rule lies within it: each string 4 to 5 times as long as the band. A swatch narrows it.',
  'doubt.priorPart':
    'What is not measured is estimated from what is; ± allows for that too (our own assumption).',
  'doubt.assumed':
    'Measured only once: {what}. That does not tell how evenly you tie, so 5 in 100 is assumed. A second swatch tells more.',
  'doubt.unknown':
    'How sure these lengths are is not known: the board does not say how sure its gauge is ({fields}). Measure a swatch under Bar and gauge.',
  'doubt.of.cordErrorMm': 'width of a string',
  'doubt.of.rowErrorMm': 'height of a row',
  'doubt.of.knottingErrorMm': 'take-up of a knot',
  'doubt.of.carrierErrorMm': 'take-up of the carrier',
  'doubt.of.cord': 'the width',
  'doubt.of.row': 'the height',
  'doubt.of.takeUp': 'the take-up',
  'doubt.short': 'About 1 in {count} that a cord in {colour} runs short before its last knot.',
  'doubt.shortOften':
    'About {count} in 10 that a cord in {colour} runs short before its last knot. Tie a swatch, or cut longer.',
  'doubt.shortRare': 'Less than 1 in 1,000 that a cord runs short.',
} as const;
