package macro

// Starter is a commented record to begin with: of the arrow weld of a joint of
// fillets, such as the starter of a tee.
const Starter = `# A cut-and-etch record: what was measured on one sample. A length takes the unit
# it carries; a bare number takes ` + "`units`" + `. What stands behind # is not in force:
# take the # away to use it. Leave out what was not measured.

sample: S1
# joint: foot.yaml      # the joint file, where the command line names none
# units: mm
weld: arrow
# position: 45          # of the cut along the seam
# date: 2026-03-05
# inspector: bench two
# etchant: caustic      # or none. Hot lye blinds and burns; with aluminium it foams up
                        # and gives off hydrogen: goggles, gloves, an open vessel, no flame.
                        # Every etchant on file brings its own caution.
legs: [3.1, 3.2]        # on the continuous member, on the abutting one
throat: 2.1             # from the joint root to the face
# convexity: 0.2        # negative: concave
penetration: 0.2        # beyond the joint root; negative: not reached
fusion: [0.4, 0.5]      # depth into each member
# undercut: 0
# gap: 0.3
# note: HV5 across the weld 78 71 70 72 79
`
