/** Texts of the panels beside the board that are there before a panel is opened, in English. */
export const enPanels = {
  'panels.tabs': 'Panels',
  'panels.mounting': 'Mounting',
  'panels.colours': 'Colours',
  'panels.cutting': 'Cutting list',
  'panels.cost': 'Cost',
  'panels.gauge': 'Bar and gauge',
  'panels.work': 'Work order',
  'panels.symmetry': 'Symmetry',
  'panels.piece': 'Piece',
  'panels.notes': 'Notes',
  'panels.proposals': 'Proposals',
  'panels.talk': 'Talk',
  'panels.versions': 'Versions',
  'panels.loading': 'Opening the panel …',
  'panels.estimate': 'estimate',
  'panels.range': 'This cannot be computed: {why}',
} as const;
