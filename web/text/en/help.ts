/** Texts of the help page and of the first steps, in English. */
export const enHelp = {
  'help.heading': 'Help',
  'help.lead': 'What the words mean, how the drawings are read, and what each panel is for.',
  'help.glossary': 'Words of the trade',
  'help.knots': 'The four knots',
  'help.knotsLead':
    'Two neighbouring strings are tied by a double half hitch: the knotting string is tied twice round the carrier. The colour of the knotting string shows. Of each pair you choose which colour shows and whether the two change places.',
  'help.knot.f': 'Forward knot',
  'help.knot.fText': 'The left string is tied twice to the right. The two change places.',
  'help.knot.b': 'Backward knot',
  'help.knot.bText': 'The right string is tied twice to the left. The two change places.',
  'help.knot.fb': 'Forward-backward knot',
  'help.knot.fbText': 'The left string is tied once to the right and once back. Each stays where it was.',
  'help.knot.bf': 'Backward-forward knot',
  'help.knot.bfText': 'The right string is tied once to the left and once back. Each stays where it was.',
  'help.knot.drawing': '{knot}: its two half hitches one after the other, and on the right how it is drawn',
  'help.knot.token': 'In text: {token}',
  'help.tools': 'Tools and their keys',
  'help.toolsText':
    'The keys work while you are on the board. Under “Keyboard shortcuts” there you give any of them another key, or turn single letters, digits and signs off; this device remembers it.',
  'help.mounting': 'Mounting on the ring',
  'help.head': 'Lark’s head, its strings spread',
  'help.headText':
    'Each cord is folded in the middle and laid over the bar as a loop, and both strings are drawn through the loop. One cord gives two strings of one colour; they may be spread so that others hang between them.',
  'help.headDrawing': 'A cord folded over a bar, its two strings spread, with two others between them',
  'help.noRing':
    'Without a ring a band begins with loose cords, with a loop, or straight over a stick: choose it under “How it begins” in the panel Keychain. Then the panel Mounting is called Beginning, and says what your hands do and in which order the strings must lie.',
  'help.nested': 'Nested and side by side: neat',
  'help.nestedText':
    'Of two folded cords one lies inside the other or beside it. The outer one goes on first; the back stays neat.',
  'help.nestedDrawing': 'Two arcs, one inside the other, and a third beside them',
  'help.crossing': 'Crossing: a float shows',
  'help.crossingText':
    'The two take their places by turns, so one has to run across the back of the other, and that float shows.',
  'help.crossingDrawing': 'Two arcs that cross, the crossing marked',
  'help.triangle': 'Triangle end',
  'help.triangleText':
    'After the last row each further row ties one knot fewer, half a step in, to a point. The double triangle does so in each half.',
  'help.triangleDrawing': 'Rows of lozenges that narrow to a point',
  'help.term.thread': 'Thread',
  'help.term.threadText': 'What you buy: one colour with a name, in skeins.',
  'help.term.cord': 'Cord',
  'help.term.cordText':
    'A length cut from thread. Folded over the bar it gives two strings. Cords are numbered as they are mounted.',
  'help.term.place': 'Place',
  'help.term.placeText': 'Where a string hangs at the top, counted from the left.',
  'help.term.peg': 'Peg',
  'help.term.pegText':
    'Stands above the board at each place, in the colour of its string. Choose a colour, then a peg, to change it.',
  'help.term.bar': 'Bar',
  'help.term.barText': 'The metal that the cords hang from: the straight side of a ring, or a round ring.',
  'help.term.float': 'Float',
  'help.term.floatText': 'The part of a cord that runs across the back where two cords cross.',
  'help.term.string': 'String',
  'help.term.stringText':
    'What hangs from the bar and is tied, two to a cord. Strings are numbered from the left.',
  'help.term.row': 'Row',
  'help.term.rowText':
    'Knots side by side. One row ties strings 1 and 2, 3 and 4 …; the next ties 2 and 3, 4 and 5 …, and the edge strings hang on.',
  'help.term.knotting': 'Knotting string',
  'help.term.knottingText': 'The string that is tied; its colour shows.',
  'help.term.carrier': 'Carrier',
  'help.term.carrierText': 'The string that is tied round and hidden. It is held straight.',
  'help.term.repeat': 'Repeat',
  'help.term.repeatText': 'The rows that are tied again and again down the band.',
  'help.term.leadIn': 'Lead-in',
  'help.term.leadInText':
    'Rows tied once at the top that bring the strings from an order that mounts neatly to the order the pattern needs.',
  'help.term.single': 'Single cord',
  'help.term.singleText':
    'A cord of which one string is tied; its short part is hidden behind the first knots.',
  'help.term.neat': 'Neat back',
  'help.term.neatText': 'No float runs across the back.',
  'help.term.gauge': 'Gauge',
  'help.term.gaugeText': 'How wide a string lies, how high a row is, and how much thread a knot takes.',
  'help.term.swatch': 'Swatch',
  'help.term.swatchText': 'A small band tied to be measured.',
  'help.term.plusMinus': '± after a length',
  'help.term.plusMinusText':
    'How far off it may be: 19 of 20 keychains need a length within it. Wide for an estimate, narrower with every swatch.',
  'help.term.colourway': 'Colourway',
  'help.term.colourwayText':
    'One pattern in somebody’s own colours. A colour it does not name stays as on the board; two that look the same are one thread, which may change the mounting.',
  'help.term.skein': 'Skein',
  'help.term.skeinText': 'Thread as it is sold. Six-strand floss usually comes in 8 m (8.7 yd).',
  'help.term.proposal': 'Proposal',
  'help.term.proposalText':
    'Changes worked out beside the board. Owners see what differs and take over all of it, a part, or nothing.',
  'help.term.pickUp': 'Pick-up',
  'help.term.pickUpText': 'Putting one string down and taking another as the knotting string.',
  'help.panels': 'What each panel is for',
  'help.panel.proposals':
    'Work out beside the board what you would change, and hand it in; owners compare, and take over all of it, a part, or nothing.',
  'help.panel.mounting':
    'Which places each cord serves, in which order to put them on, and what to do when they cross.',
  'help.panel.set':
    'All colourways of the pattern as finished keychains beside each other: whose each is, what to look at, its mounting, cutting list and paper, and one shopping list for all.',
  'help.panel.board': 'The pattern itself: tie by pointer, touch or keyboard; press ? there for all keys.',
  'help.ways': 'In and out',
  'help.waysText':
    'Drop a board file on the page to open it, or paste rows of knots as text. File and print saves the board, a picture or the steps, and prints a working sheet and a card.',
  'help.together': 'Together and offline',
  'help.togetherText':
    'Share gives out links: to co-makers, who change the board with you, to reviewers and learners, who speak and propose, and to onlookers. A link can have a name and a last day and be taken back; whoever came by it then loses access at once. Everybody’s changes are merged knot by knot. “Saved” means: on the server’s disk. Without a connection your changes stay in this browser and are sent when it is back.',
  'help.talk': 'Talk',
  'help.talkText':
    'Say something about a knot from its menu or with {key}, about an entry of a panel (a cord, a colour, a step) with its own button or with {key}, or about the whole board under Talk. It stays with its knot or entry; a mark leads to it. With @ you mention somebody.',
  'help.panel.talk': 'What is said about the board, a knot, a row, a string or an entry of a panel.',
  'help.panel.versions':
    'The board as it was: saved automatically and by name, to look at, compare, play back and bring back.',
  'help.lesson': 'Lessons',
  'help.lessonText':
    'Under “Share” a lesson is opened on the board, beside whatever call you use. Learners come by its link, and you let them in. Where you are in the making, they follow, each in her own colours and for her own hand; Help calls you. Pointing and drawing show where. When you finish the lesson the link opens nothing any more.',
  'help.data': 'Your data',
  'help.data.archive': 'Archive of a board',
  'help.data.archiveText':
    'One zip file with everything that the server keeps of a board: its board file, the design and the talk, all versions and proposals, and a list of its contents. Owners get it under File and print, “Download everything”. Links and who holds them are not in it.',
  'help.data.load': 'Loading an archive',
  'help.data.loadText':
    'Open it on the page with all boards, like a board file, on this server or on another. A new board is made of it, with talk, versions and proposals, and it is yours: you answer the proposals that wait. What was said and proposed keeps its names, but belongs to nobody there.',
  'help.data.delete': 'Deleting a board',
  'help.data.deleteText':
    'Owners delete a board under File and print. It is gone at once for everybody, with its talk, versions, proposals and links, and nobody can bring it back, whoever runs the server only from a backup made before. Download everything first if somebody may still want it.',
  'help.data.browser': 'In this browser',
  'help.data.browserText':
    'A copy of each board you worked on, what you said and could not send yet, and your name stay in this browser until you clear its data. So does what you changed on a demo board when no copy could be made.',
  'help.care': 'Take care',
  'first.heading': 'First steps',
  'first.count': 'Step {step} of {steps}',
  'first.tie': 'Tie a knot: tap or click a spot on the board, or move there with the arrow keys and press 1.',
  'first.undo': 'Well tied. Now take it back with Undo.',
  'first.point':
    'Point at a cord in the mounting list, or move there with Tab: its pegs and its way light up.',
  'first.done': 'That is the whole idea: every change is worked out at once. The rest is under Help.',
  'first.skip': 'Skip',
  'first.end': 'Start',
} as const;
