// Holds the program's measures against libraries that work them out from counts: arithmetic.mjs JSONL.
// Given the program's own counts each must give the program's value, but for the constant of Dale-Chall 1948, which that
// library adds above 5 % of unfamiliar words alone.
import {readFileSync} from 'node:fs'
import {automatedReadability} from 'automated-readability'
import {colemanLiau} from 'coleman-liau'
import {daleChallFormula} from 'dale-chall-formula'
import {flesch} from 'flesch'
import {fleschKincaid} from 'flesch-kincaid'
import {gunningFog} from 'gunning-fog'
import {smogFormula} from 'smog-formula'
import {spacheFormula} from 'spache-formula'

const constant = 3.6365
const formulas = {
  flesch_reading_ease: c => flesch({sentence: c.sentences, word: c.words, syllable: c.syllables_by_flesch}),
  flesch_kincaid_grade: c => fleschKincaid({sentence: c.sentences, word: c.words, syllable: c.syllables_by_flesch}),
  automated_readability_index: c =>
    automatedReadability({sentence: c.sentences, word: c.words, character: c.letters_and_digits}),
  coleman_liau_index: c => colemanLiau({sentence: c.sentences, word: c.words, letter: c.letters_and_digits}),
  gunning_fog: c => gunningFog({sentence: c.sentences, word: c.words, complexPolysillabicWord: c.hard}),
  smog: c => smogFormula({sentence: c.sentences, polysillabicWord: c.three_syllables}),
  spache_revised: c => spacheFormula({sentence: c.sentences, word: c.words, unfamiliarWord: c.unfamiliar_once}),
  dale_chall_1948: c =>
    daleChallFormula({sentence: c.sentences, word: c.words, difficultWord: c.unfamiliar}) +
    (c.unfamiliar / c.words > 0.05 ? 0 : constant),
}

const rows = readFileSync(process.argv[2], 'utf8').trim().split('\n').map(row => JSON.parse(row).level)
let without = 0
for (const {scores, counts} of rows) {
  without += counts.unfamiliar / counts.words > 0.05 ? 0 : 1
  for (const [measure, formula] of Object.entries(formulas)) {
    const found = formula(counts)
    // The program prints four places.
    if (!(Math.abs(found - scores[measure]) < 0.0001)) {
      console.error(`${measure}: ${scores[measure]} here, ${found} there, from ${JSON.stringify(counts)}`)
      process.exit(1)
    }
  }
}
console.log(`${Object.keys(formulas).length} measures of ${rows.length} texts are as from the libraries that take counts;`)
console.log(`in ${without} texts the library for Dale-Chall 1948 leaves its constant out`)
