// Everything that the page says, in one place: another language is another file of this shape.
//
// What a card says comes with the deck. Functions give sentences that hold a name or a number. `counted` puts the
// plural right; a language with other plurals brings its own.

// What stands in the page itself, where no script runs. Plain JSON: pack/preview.py reads it, the page does not.
export const PREVIEW = {
  "language": "en",
  "what": "This is a quiz, and it does not run here yet.",
  "why": "Previews in mail and messengers show a page without its scripts.",
  "steps": [
    "Save or share the file, and open it with a browser: look for a share or menu sign near the screen’s edge.",
    "If the browser shows these words too, allow scripts for this page, or update the browser.",
    "If your phone opens no files in a browser, ask whoever gave you the quiz for its address on the web."
  ]
};

const counted = (count, one, many) => `${count} ${count === 1 ? one : many}`;
const capital = (text) => text[0].toUpperCase() + text.slice(1);
const place = (string, fret) => `string ${string}, ${fret === 0 ? "open" : `fret ${fret}`}`;

function calledNote({ text, isRoot, isAsked }) {
  if (isAsked) return "the note that is asked for";
  return isRoot ? ["the root", text].filter(Boolean).join(", ") : text || "a note";
}

const SIGNS = {
  "♭": "flat",
  "♯": "sharp",
  "𝄫": "double flat",
  "𝄪": "double sharp",
  "△": "major",
  "ø": "half-diminished",
  "°": "diminished",
};
const NUMBERS = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"];
const ORDINALS = ["first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth"];
const LAYERS = {
  lower: "the lower layer",
  middle: "the middle layer",
  upper: "the upper layer",
  single: "the layer",
};

/** A text with its signs in words, for those who listen: "E flat", "the sharp 11". */
const heard = (text) =>
  text
    .replace(/[♭♯𝄫𝄪△ø°]/gu, (sign) => ` ${SIGNS[sign]} `)
    .replace(/ +/g, " ")
    .replace(/ (?=[,.;:])/g, "")
    .trim();

/** What a key says, in words; it may have several names. */
const said = (text) => heard(text.replaceAll("/", " or "));

const inWords = (count) => NUMBERS[count] ?? String(count);
const offCount = (count, one, many) => `${capital(inWords(count))} ${count === 1 ? one : many} off.`;
const listed = (texts) => texts.join(", ").replace(/, ([^,]*)$/, " and $1");

/** How far to go from where one was: `by` above 0 was too high. */
const way = (by, one, many) =>
  Math.abs(by) === 12
    ? `an octave ${by > 0 ? "down" : "up"}`
    : `${inWords(Math.abs(by))} ${Math.abs(by) === 1 ? one : many} ${by > 0 ? "down" : "up"}`;
const tooFar = (by, one, many) =>
  `${inWords(Math.abs(by))} ${Math.abs(by) === 1 ? one : many} too ${by > 0 ? "high" : "low"}`;
const octavesTooFar = (octaves) =>
  Math.abs(octaves) === 1
    ? `an octave too ${octaves > 0 ? "high" : "low"}`
    : tooFar(octaves, "octave", "octaves");

/** When a card comes back, in the largest unit that fits. */
function comesBack(wait_ms) {
  const minutes = Math.max(1, Math.round(wait_ms / 60_000));
  const days = Math.round(minutes / 1440);
  if (minutes < 60) return `back in ${counted(minutes, "minute", "minutes")}`;
  if (days < 1) return "back later today";
  if (days < 60) return `back in ${counted(days, "day", "days")}`;
  return `back in ${counted(Math.round(days / 30.4), "month", "months")}`;
}

export const WORDS = Object.freeze({
  // --- app: start, faults -------------------------------------------------------------------------
  app: {
    cannotStart: "This quiz cannot start",
    deckDamaged:
      "Its cards cannot be read: the page was not loaded to its end, or it is damaged. Load it again, or " +
      "ask whoever gave it to you for another copy. Your progress is safe.",
    notLoaded:
      "The page was not loaded to its end. See to the network and load it again. Your progress is safe.",
    folderOnDisk:
      "A browser does not open this folder from disk. Open the single file beside it, or the page’s address.",
    notKept: "This browser keeps nothing for this page: progress is lost when you close it.",
    saveFile: "Save a progress file",
    newer: "A newer deck is here. Your progress stays.",
    takeNewer: "Go over to it",
    install: "Put this quiz on the home screen: it opens without a network, and progress is kept better.",
    doInstall: "Put it there",
    fileDue: "Nothing but this browser keeps your progress, and some clear it. Save it once a week.",
    notWritten:
      "Your marks cannot be written just now. They count while this page is open; save a progress file " +
      "before you close it.",
    newerPage: "A newer version of this quiz has been here. Load the page anew; until then nothing is kept.",
    takenOver:
      "A newer page has taken over what is kept here. Your marks count while this page is open: save a progress " +
      "file, then open your newest deck and read it in there.",
    closed: "A newer version of this quiz was opened. Load this page anew to go on.",
    loadAnew: "Load anew",
  },

  // --- what several screens say ---------------------------------------------------------------------
  shared: {
    home: "Home",
    less: "less",
    more: "more",
    heard,
  },

  // --- home ---------------------------------------------------------------------------------------
  home: {
    title: "Home",
    toPlay: "to play today",
    fresh: (fresh, count) => (fresh === count ? "for the first time" : `${fresh} of them for the first time`),
    eased: (count) => `${count} more wait; the coming days bring them`,
    allDone: "Done for today. Let it settle.",
    nothing: "Nothing to play today.",
    keys: "how settled each key is, by fourths",
    play: "Play",
    weak: "Only the weak spots",
    rounds: "Play a round",
    caution: "Warm up first; if it hurts, stop.",
    waysLabel: "Further",
    allOfIt: "Where you are, in full",
    ways: { rounds: "Rounds", projector: "On the wall", settings: "Settings", help: "Help" },
  },

  // --- the end of a sitting -----------------------------------------------------------------------
  done: {
    title: "Done",
    today: "Done for today",
    weak: "The weak spots are through",
    played: (count) =>
      count === 0 ? "Nothing was left to play." : `${counted(count, "card", "cards")} played`,
    slipped: "Slipped",
    andMore: (count) => `and ${count} more`,
    next: (days, count) => {
      const cards = counted(count, "card", "cards");
      if (days === 0) return `${cards} more today.`;
      return days === 1 ? `Tomorrow: ${cards}.` : `In ${days} days: ${cards}.`;
    },
    nothingSoon: "The coming fortnight asks for nothing.",
  },

  // --- play: question, answer, marks --------------------------------------------------------------
  play: {
    title: "Play",
    place: (drill, number, total) => `${drill} · ${number} of ${total}`,
    undo: "Undo",
    clear: "Clear",
    check: "Check",
    showMe: "Show me, I judge myself",
    hearAgain: "▷ once more",
    hearRoot: "▷ root",
    arpeggio: "▷ arpeggio",
    chord: "▷ chord",
    howDidItSit: "How did it sit?",
    layer: (role) => (role === "single" ? "" : `${capital(LAYERS[role])}: `),
    next: "Next",
    undoMark: "Undo the mark",
    takenBack: "The mark is taken back.",
    backIn: (mark, wait_ms) => `${mark}: ${comesBack(wait_ms)}`,
  },

  marks: { 1: "missed", 2: "shaky", 3: "clean", 4: "instant" },
  stages: { unseen: "unseen", settling: "settling", settled: "settled", slipped: "slipped" },

  // --- answers: the neck, pads, builders ----------------------------------------------------------
  answers: {
    yours: "Your answer",
    or: " or ",
    root: "root",
    quality: "quality",
    tensions: "tensions",
    structure: "structure",
    inversion: "inversion",
    degree: "degree",
    none: "none",
    thatIsAll: "That is all",
    noneOf: (name) => `No ${name}`,
    anotherKind: "Another kind",
    kindOf: (name) => `kind of ${name}`,
    is: (note) => `${note} is`,
    degreeOf: (note) => `degree of ${said(note)}`,
    degreeNumbered: (number) => `degree ${number}, from below`,
    noteOf: (number, count) => `note ${number} of ${count}, from below`,
    layerPart: (role, name) => `${name} of ${LAYERS[role]}`,
    blank: (name, text) => (text ? `${name}: ${text}. Change` : `${name}: empty`),
    now: (answer, next) => [answer, next && `Next: ${next}`].filter(Boolean).join(". "),
    said,
  },

  // --- findings: what was wrong and why -----------------------------------------------------------
  findings: {
    right: "Right.",
    notesOff: (count) => offCount(count, "note", "notes"),
    partsOff: (count) => offCount(count, "part", "parts"),
    shifted: (isSameStrings, semitones) =>
      isSameStrings
        ? `The right shape, ${tooFar(semitones, "fret", "frets")}.`
        : `The right voicing, ${tooFar(semitones, "half step", "half steps")}.`,
    elsewhere: (octaves) =>
      octaves === 0 ? "The right notes, in another place." : `The right notes, ${octavesTooFar(octaves)}.`,
    order: "The right notes, in another order.",
    lowToHigh: (degrees) => `From low to high: ${degrees.join(" ")}.`,
    choiceOff: "Not that one.",

    string: (name, rank) => `the ${rank === null ? "" : ["low ", "high "][rank]}${name} string`,
    numberedString: (number) => `string ${number}`,
    degree: (text) => (text === "1" ? "the root" : `the ${text}`),
    both: (note, degree) => `${note}, ${degree}`,
    nothing: "nothing",

    had: (string, given) => `On ${string} you had ${given}.`,
    belongs: (degree, note, byFrets) => `${capital(degree)} is ${note}, ${way(byFrets, "fret", "frets")}.`,
    onString: (string, degree, note, byFrets) =>
      `On ${string} ${degree} is ${note}, ${way(byFrets, "fret", "frets")}.`,
    octaveOff: (string, note, octaves) => `On ${string} ${note} is right, but ${octavesTooFar(octaves)}.`,
    otherString: (note, wanted, given) => `${note}, belongs on ${wanted}, not on ${given}.`,
    pitch: (string, given, asked, bySemitones) =>
      `On ${string} you had ${given}; it is ${asked}, ${way(bySemitones, "half step", "half steps")}.`,
    extra: (string, given) => `${capital(string)} stays silent; you had ${given}.`,
    missing: (string, asked) => `${capital(string)} was left out: ${asked}.`,
    lowest: (string, asked) => `Its lowest note is ${asked}, on ${string}.`,
    askedStrings: (numbers) => {
      const isRow = numbers[0] - numbers.at(-1) === numbers.length - 1;
      if (numbers.length === 1) return `They were asked on string ${numbers[0]}.`;
      const named = isRow ? `${numbers[0]} to ${numbers.at(-1)}` : numbers.join(" ");
      return `They were asked on strings ${named}.`;
    },
    askedPlace: (octaves) =>
      `This card asks for the ${octaves === 0 ? "place" : "octave"} shown here.`,
    grip: "Another good grip of it is shown here.",

    place: (place, asked, given) => `The ${ORDINALS[place]} note from below is ${asked}; you had ${given}.`,
    spelled: (pairs) =>
      `It sounds the same; here ${listed(pairs.map(({ given, asked }) => `${given} is called ${asked}`))}.`,

    degreeOff: (note, degree, given) =>
      given === null ? `${note} is ${degree}.` : `${capital(degree)} is ${note}; you had ${given}.`,
    called: (text, others) => `It sounds the same as ${listed(others)}; here it is called ${text}.`,

    chord: (text, { root, quality, missing, extra }) => {
      const parts = [
        root && `root ${root.asked}, not ${root.given}`,
        quality && `${quality.asked}, not ${quality.given}`,
        missing.length > 0 && `with ${listed(missing)}`,
        extra.length > 0 && `without ${listed(extra)}`,
      ];
      return `The chord is ${text}: ${parts.filter(Boolean).join("; ")}.`;
    },
    layer: (role, text, given) => `${capital(LAYERS[role])} is ${text}; you had ${listed(given)}.`,
    reading: (given, asked) => `${given} is the same notes by another name; this card calls them ${asked}.`,

    choice: (given, asked) => `It was ${asked}; you chose ${given}.`,
  },

  // --- the neck in words --------------------------------------------------------------------------
  neck: {
    layer: (name, notes) => heard(`${name ? `${capital(name)} layer: ` : ""}${notes.join("; ")}.`),
    note: (note, string) => `${calledNote(note)} on ${place(string, note.fret)}`,
    muted: (strings) => `Not played: ${strings.length === 1 ? "string" : "strings"} ${strings.join(", ")}.`,
    tapped: "The neck. A tap places a note, one on each string; a second tap takes it off.",
    cell: (string, fret, name) => [place(string, fret), heard(name)].filter(Boolean).join(", "),
    given: (text) => `given: ${heard(text)}`,
    start: (text) => `from here: ${heard(text) || "a note"}`,
    placed: (cell) => `Note on ${cell}.`,
    removed: (string) => `No note on string ${string}.`,
    takenBack: "Taken back.",
    cleared: "Cleared.",
  },

  // --- pictures of progress -----------------------------------------------------------------------
  pictures: {
    key: "key",
    noCards: "no cards",
    day: "day",
    due: "due again",
    fresh: "fresh",
    dayLetter: (day) => new Date(day).toLocaleDateString("en-GB", { weekday: "narrow" }),
    dayName: (day) => new Date(day).toLocaleDateString("en-GB", { weekday: "long", day: "numeric", month: "long" }),
  },

  // --- where you are ------------------------------------------------------------------------------
  standing: {
    title: "Where you are",
    keys: "The twelve keys",
    voicings: "The voicings",
    fortnight: "The coming fortnight",
    keysLabel: "How settled each key is, by fourths",
    daysLabel: "Cards of the coming fortnight, a day each",
    daysNote: "If each card is answered clean on its day.",
    weak: "Weakest spots",
    fading: "fading",
    hard: "hard",
    noWeak: "None: nothing has slipped, is hard for you or is about to fade.",
    practise: (count) => `Practise ${count === 1 ? "this one" : `these ${count}`}`,
  },

  // --- rounds -------------------------------------------------------------------------------------
  rounds: {
    title: "Rounds",
    about:
      "One voicing through its keys by fourths, two bars of four beats each. Play along with your " +
      "guitar.",
    none: "This deck has no voicing that a round could be played with.",
    voicing: "Voicing",
    keys: (keys) => `${counted(keys.length, "key", "keys")}: ${keys.join(" ")}`,
    tempo: "Tempo",
    bpm: "beats a minute",
    drone: "Root held below",
    neckShown: "Neck shown all the time",
    soundOff: "Sound is off in the settings: you see the beats and do not hear them.",
    caution: "Warm up first. If it hurts, stop; leave a note out rather than force it.",
    start: "Start",
    countIn: "Count-in",
    keyOf: (number, count) => `Key ${number} of ${count}`,
    next: "then",
    last: "the last one",
    showNeck: "Show the neck",
    pause: "Pause",
    goOn: "Go on",
    stop: "Stop",
    played: (count) => `${counted(count, "key", "keys")} played`,
    nothingPlayed: "No key was played to its end, so there is nothing to mark.",
    nothingMet:
      "Nothing to mark: a round is noted for the keys in which a card has asked you where it lies, and here " +
      "there was none yet.",
    whatMarkDoes: (count) =>
      "One mark for the whole round. It counts as a review of where it lies in " +
      `${counted(count, "key", "keys")} of this round: only where a card has asked you that before. ` +
      "Keys you have not met stay unseen.",
    note: "Note the mark",
    leaveUnmarked: "Leave it unmarked",
    noted: (count) => `Noted for ${counted(count, "key", "keys")}.`,
    takeBack: "Take the mark back",
    takenBack: "Taken back.",
    again: "Another round",
  },

  // --- projector ----------------------------------------------------------------------------------
  projector: {
    title: "On the wall",
    about:
      "For a class in the room: one card after another, large, without marks or progress. Nothing is " +
      "stored.",
    order: "Order",
    asInDeck: "as in the deck",
    shuffled: "shuffled",
    drills: "Drills",
    cards: (count) => (count === 0 ? "Choose at least one drill." : counted(count, "card", "cards")),
    keys:
      "Space, Enter or → go on; ← goes back; S sound, D light or dark, F full screen. A click on the " +
      "card goes on too.",
    start: "Begin",
    answer: "Answer",
    next: "Next",
    back: "Back",
    sound: "Sound",
    theme: "Light or dark",
    full: "Full screen",
    leave: "Leave",
    count: (number, count) => `${number} of ${count}`,
  },

  // --- settings -----------------------------------------------------------------------------------
  settings: {
    title: "Settings",
    atOnce: "Kept at once, on this phone.",
    neckPart: "The neck",
    hand: "You play",
    hands: { deck: "as the deck", right: "right-handed", left: "left-handed" },
    neck: "Strings run",
    necks: { across: "across", down: "down" },
    soundPart: "Sound",
    soundOn: "Sound on",
    a4: "A above middle C",
    hertz: "Hz",
    hearA: "Hear the A",
    soundNote:
      "Nothing to hear? See to the volume and to the phone’s silent mode. While sound is off, the drill “hear” " +
      "waits.",
    soundAbsent: "This browser makes no sound. The drill “hear” waits; everything else works.",
    soundBlocked:
      "The browser keeps the sound back. Tap once more, or allow sound for this page; everything else " +
      "works.",
    lookPart: "Look and names",
    theme: "Light or dark",
    themes: { phone: "as the phone", light: "light", dark: "dark" },
    names: "Note names",
    nameKinds: { true: "by degree", plain: "plain" },
    namesNote: "By degree, the ♭7 of D♭ is C♭, as it is written; plain, it is B.",
    dayPart: "A day",
    fresh: "Fresh cards a day",
    freshOfDeck: (count) => `as the deck: ${count}`,
    freshOwn: "my own number",
    ownFresh: "Fresh cards",
    dayStart: "A new day starts at",
    hour: (hour) => `${String(hour).padStart(2, "0")}:00`,
    progressPart: "Progress",
    staysHere: "Nothing leaves this phone by itself. A progress file goes only where you send it.",
    storage: {
      kept: "The browser has promised to keep your progress.",
      clearable:
        "The browser may clear your progress, some do after about a week without a visit. Ask it to " +
        "keep it, put this page on the home screen, and save a progress file once a week.",
      refused:
        "The browser does not promise to keep your progress. Put this page on the home screen if your " +
        "phone can, and save a progress file once a week.",
      unknown:
        "The browser does not say whether it will keep your progress. Save a progress file once a " +
        "week.",
      nothing:
        "The browser refuses to keep anything for this page, so progress is lost when it closes. Leave " +
        "private browsing, or save a progress file before you close it.",
      ask: "Ask to keep it",
    },
    studentName: "Your name in the file, if you like",
    save: "Save a progress file",
    saved: (name) => `Saved as ${name}.`,
    read: "Read a progress file",
    reading: "Reading…",
    noRoom:
      "There is no room here for all that the file holds. What was here is safe, and so is the file: free " +
      "some space, then read it in again.",
    readIn: ({ added, known, cards }) =>
      added === 0
        ? `Nothing new: ${counted(known, "review was", "reviews were")} here already.`
        : `${counted(added, "new review", "new reviews")} of ${counted(cards, "card", "cards")}; ` +
          `${known} ${known === 1 ? "was" : "were"} here already.`,
    unforeseen: (text) => `That did not work: ${text}. Nothing was changed.`,
  },

  // --- progress file, storage ---------------------------------------------------------------------
  progress: {
    foreign:
      "This is no progress file of these drills. Pick the file that this page saved, its name begins " +
      "with “progress”. Nothing was changed.",
    damaged:
      "This progress file is damaged, and nothing in it could be read. Try another copy of it. Nothing " +
      "was changed.",
    newer:
      "This progress file was saved by a newer page. Open your newest deck and read it in there. " +
      "Nothing was changed.",
    "too-big":
      "This file is far larger than progress can be. Pick the file that this page saved. Nothing was " +
      "changed.",
    full:
      "The phone has no room left. Your mark counts, but is not written down yet: make room, or save a " +
      "progress file before you close the page.",
    refused:
      "The browser could not write to its store. Your mark counts for now: save a progress file before " +
      "you close the page, then load it anew.",
    "newer-page":
      "A newer page has taken over what is kept here, and this one cannot write to it. Load this page " +
      "anew, or open your newest deck.",
    lost: (count) =>
      `${counted(count, "review", "reviews")} could not be read, the file is damaged; ` +
      "everything else was taken in.",
  },

  // --- help ---------------------------------------------------------------------------------------
  help: {
    title: "Help",
    answering: {
      title: "How to answer",
      lines: [
        "On the neck: tap where a note lies. There is one note on a string; a tap on another fret " +
          "moves it, a second tap takes it off. The place beyond the nut is the open string.",
        "With the keys under a question: put the chord together from its parts, tap notes from low to " +
          "high, or pick a degree. Every spelling that sounds right counts.",
        "With the guitar in hand: play it, then let the page show the answer and judge yourself.",
      ],
    },
    marks: {
      title: "What the marks do",
      lines: [
        "The page proposes a mark from your answer and from how soon you began. You decide.",
      ],
      rows: [
        ["missed", "not known: it comes back in a few minutes"],
        ["shaky", "right in the end: it comes back earlier"],
        ["clean", "right: it comes back when it would begin to fade"],
        ["instant", "right without a thought: it comes back later"],
      ],
      after: [
        "A card is unseen, then settling, then settled; a settled one that you missed has slipped, " +
          "until it is settled again.",
        "After days away the page spreads what has piled up over several days.",
      ],
    },
    neck: {
      title: "The neck",
      lines: [
        "The highest string is on top. When the strings run down, the lowest is on the left, or on the " +
          "right on a left-handed neck.",
      ],
      legend: {
        lower: "disc: lower layer; inside, the degree",
        upper: "square: upper layer",
        middle: "plectrum: a layer between them",
        root: "ring: the root",
        doubled: "second edge: a note that sounds twice",
        asked: "question mark: the note that is asked for",
        wrong: "broken ring: what you had instead",
      },
    },
    keys: {
      title: "With a keyboard",
      rows: [
        ["Tab", "from one thing to the next"],
        ["← ↑ → ↓", "on the neck, among keys and marks"],
        ["Space or Enter", "place a note, press a button"],
        ["1 2 3 4", "missed, shaky, clean, instant"],
        ["Enter", "on to the next card, from the mark"],
        ["Backspace", "take a note off its string; on keys, the last step of the answer back"],
        ["Esc", "from a card home"],
      ],
    },
    sound: {
      title: "Sound",
      lines: [
        "The strings are made in this page. The first tap wakes them.",
        "Nothing to hear? Turn the volume up, and look at the phone’s silent switch or silent mode: " +
          "many phones keep pages quiet while it is on.",
      ],
    },
    care: {
      title: "Your hands",
      lines: [
        "Warm up before wide stretches. If it hurts, stop. Leave a note out rather than force it.",
        "Pain that stays or comes back is for a teacher to look at, or for a clinician who knows hands.",
      ],
    },
    kept: {
      title: "Where progress is kept",
      lines: [
        "On this phone, in this browser, and nowhere else. Private windows forget it when they close.",
        "Some phone browsers clear what a page has kept after about a week without a visit. Put the " +
          "page on the home screen, and save a progress file once a week: Settings, Progress.",
        "A new phone, or another browser? Save the file on the old one and read it in on the new one. " +
          "Two files can be read in, in any order; nothing counts twice.",
      ],
    },
    phones: {
      title: "Which way on which phone",
      rows: [
        [
          "Any phone, with an address",
          "The best way: open the address, add the page to the home screen. It works without a network " +
            "from then on.",
        ],
        [
          "Phones that open saved pages in a browser",
          "Save the attached page, then open it from the phone’s files. Its progress stays with that " +
            "browser on that phone; keep the file where it is. Some browsers keep each file’s progress " +
            "apart: save a progress file in this deck and read it into the next.",
        ],
        [
          "Phones that only preview files",
          "A mail’s or messenger’s preview runs no scripts, so the page stays still. Ask for the " +
            "address instead.",
        ],
      ],
    },
    install: {
      title: "On the home screen",
      lines: [
        "Open the page by its address, then look in the browser’s menu, or behind its share sign, for " +
          "the line that adds it to the home screen. Start it from there.",
        "Some phones keep what is played there apart from what is played in the browser. Put the page there " +
          "before you begin, or take your progress over in a file.",
        "A page opened from a file cannot be added.",
      ],
    },
    deck: "About this deck",
  },
});
