/** What is needed in all and how sure it is, in English: fetched with the panels and with the paper. */
export const enDoubt = {
  'cut.totals': 'Thread in all',
  'cut.total': '{pieces} {pieces:piece/pieces}, {length}',
  'cut.skeins': '{skeins} {skeins:skein/skeins}',
  'cut.bandLength': 'Length, first row to last',
  'doubt.is': '{length} ± {off}',
  'doubt.needs': 'needs {needs}',
  'doubt.means':
    '± means: in about 95 of 100 pieces, what is really needed lies within it. All cords share the error of the gauge: where one needs more, the others do too.',
  'doubt.prior':
    'Nothing is measured, so the lengths are estimated: two turns round the carrier for each knot, and a row 1.15 times as high as a string is wide. ± allows for what differs from hand to hand and from thread to thread (own assumption). The handbook rule of 4 to 5 times the finished length lies within it. A swatch makes it smaller.',
  'doubt.priorPart':
    'What is not measured is estimated from what is; ± allows for that too (own assumption).',
  'doubt.assumed':
    'Measured once only: {what}. How evenly you tie cannot be known from that; 5 in 100 is assumed. A second and a third swatch tell.',
  'doubt.unknown':
    'How sure these lengths are is not known, because the board does not say how sure the gauge is ({fields}). Measure a swatch again under Bar and gauge.',
  'doubt.of.cordErrorMm': 'width for a string',
  'doubt.of.rowErrorMm': 'height of a row',
  'doubt.of.knottingErrorMm': 'string a knot takes up',
  'doubt.of.carrierErrorMm': 'string the carrier takes up',
  'doubt.of.cord': 'the width',
  'doubt.of.row': 'the height',
  'doubt.of.takeUp': 'the string',
  'doubt.short':
    'As cut here, about 1 in {count} of the most doubtful cords comes out short: its spare is used up before the last knot.',
  'doubt.shortOften':
    'As cut here, about {percent} of 100 of the most doubtful cords would come out short: their spare is used up before the last knot. Tie a swatch, or cut longer.',
  'doubt.shortRare': 'As cut here, fewer than 1 cord in 1,000 comes out short, even of the most doubtful.',
} as const;
