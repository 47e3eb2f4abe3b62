package jobfile

// Starter is a commented job file to begin with. It names the joint file that
// the first steps make.
const Starter = `# A job: joints that are made together, each a joint file with how many parts. A
# file is looked for from the folder of this one. What stands behind # is not in
# force: take the # away to use it.

job: CB-150
title: first set
joints:
  # What a file does not say, or what is to be other than it says, is set with the
  # names of the command line:
  - {file: foot.yaml, quantity: 4, set: {title: davit foot, traveler: {joint: W1}, seam: {length: 180}, filler: {type: 5183}}}
  - {file: foot.yaml, quantity: 2, set: {title: long foot, leg: 4, traveler: {joint: W2}, seam: {length: 240}, filler: {type: 5183}}}
`
