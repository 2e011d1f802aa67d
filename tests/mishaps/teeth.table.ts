/** Mishaps on teeth: saliva, blood, gel and adhesive. Read as `table.ts` says. */

export const TEETH = `
# cleaned-saliva: Saliva on the first tooth, cleaned and isolated | seating
to end field-isolated case
at 0:05 cleaned-saliva {1}
> heading Clean teeth {1}
> bar     Clean and flossed, {1}
> tooth   {1}
> first   make the field dry before the gel goes on
> watched Light shield|Primed units closed {1}, {2}
> care    Powder: suction, glasses, mask
> tap     Saliva {1} | Blood {1}
> then    Field dry and covered|Sealed dentine cleaned

# etched-saliva: Saliva on the first of two etched teeth | seating
to end etch-dry {2}
at 0:04 etched-saliva {1}
> heading Etch {1}
> bar     Gel on {1}
> tooth   {1}
> first   Rinse for 10 to 30 s and dry, then etch this tooth again
> watched Etched surface {2}
> care    Acid burns: off skin, gum, eyes
> tap     Saliva {1}
> then    Rinse {1}
> then    Gel gone, {1}
> then    Enamel dry, {1}

# etched-blood: Blood on the second of two etched teeth | seating
to end etch-dry {2}
at 0:04 etched-blood {2}
> heading Etch {2}
> bar     Gel on {2}
> tooth   {2}
> first   Stop the bleeding first. Rinse for 10 to 30 s, dry, etch this tooth again
> watched Etched surface {1}
> care    Acid burns: off skin, gum, eyes

# adhesive-saliva: Saliva on the adhesive of the first tooth | seating
to end coats|bond {2}
at 0:04 adhesive-saliva {1}
> heading Dry {1}
> bar     Enamel dry, {1}
> tooth   {1}
> first   for 10 to 30 s, dry
> care    Resin sensitises: do not touch
> then    Coat 1 of 5, {1}|Adhesive on {1}

# adhesive-blood: Blood on the adhesive of the second tooth | seating
to end adhesive-air|bond-air {2}
at 0:04 adhesive-blood {2}
> heading Etch {2}
> bar     Gel on {2}
> tooth   {2}
> first   Stop the bleeding, rinse for 10 to 30 s, dry, etch again
> watched Adhesive open {2}

# etched-waited: The second etched tooth dried out | seating
to end etch-dry {2}
at 0:50 etched-waited {2}
> heading Dry {2}
> bar     Enamel dry, {2}
> tooth   {2}
> first   Rinse for a moment, dry again, go on at once
> watched Etched surface {1}

# etch-over: The gel stays on the first tooth past its limit | seating
to start etch {1}
at 1:05 etch-over {1}
> heading Etch {1}
> bar     Rinse {1}
> over    {1}
> tooth   {1}
> clock   Etch {1}
> watched -
> care    Acid burns: off skin, gum, eyes
> tap     Saliva

# etch-short: The gel came off the first tooth too early | seating
to end etch-dry {2}
at 0:03 etch-short {1}
> heading Etch {1}
> bar     Gel on {1}
> tooth   {1}
> first   Gel on this tooth again, then rinse and dry
> watched Etched surface {2}
> then    Rinse {1}

# enamel-only: Gel runs onto the dentine of the first tooth | universal, glass-ceramic, zirconia, composite
to start etch {1}
at 0:06 enamel-only {1}
> heading Etch {1}
> bar     Rinse {1}
> now     {1}
> tooth   {1}
> clock   Etch {1}
> care    Acid burns: off skin, gum, eyes

# etch-missed: The enamel of the first tooth was not etched, adhesive is on it | universal, glass-ceramic, zirconia, composite
to end bond {2}
at 0:05 etch-missed {1}
> heading Etch {1}
> bar     Gel on {1}
> tooth   {1}
> first   Rinse the adhesive off, dry, etch the enamel
> watched Air {2}

# dentine-over: Gel on the dentine of the second tooth past its limit | glass-ceramic, zirconia, composite with open dentine
to start etch-dentine {2}
at 0:18 dentine-over {2}
> heading Etch dentine {2}
> bar     Rinse {2}
> over    {2}
> tooth   {2}
> clock   Etch dentine {2}

# haemostatic-on-tooth: Astringent on the second tooth, adhesive is on it | seating
to end coats|bond {2}
at 0:05 haemostatic-on-tooth {2}
> heading Etch {2}
> bar     Gel on {2}
> tooth   {2}
> first   Rinse for 10 to 30 s, phosphoric acid
> care    Acid burns: off skin, gum, eyes

# adhesive-stale: The adhesive in the well is too old | seating
to end adhesive-mixed|adhesive-out case
at 0:10 adhesive-stale
> heading Mix adhesive|Adhesive out
> bar     Adhesive mixed and covered|Adhesive out and covered
> tooth   -
> first   Throw the well away
> care    Vapour: lid on, suction close
> then    Enamel dry

# resin-waited: The adhesive on the first tooth went dull while it waited | seating
to end tooth-resin|bond-air {2}
at 1:00 resin-waited {1}
> heading Mix adhesive|Adhesive out
> bar     Adhesive mixed and covered|Adhesive out and covered
> first   Dull or stringy: rinse, dry and start the adhesive over
> calm    {1}
> then    Enamel dry, {1}
> then    Coat 1 of 5, {1}|Adhesive on {1}

# rinse-before-bond: The patient must rinse, both teeth carry adhesive | seating
to end tooth-resin|bond-air {2}
at 0:05 rinse-before-bond {1} {2}
> heading Isolate
> bar     Field dry and covered
> first   Let the patient rinse.
> care    Pieces in, pieces out: count
> then    Pieces in: not entered

# two-limits: Gel on both teeth, the first six seconds from its limit | veneers, etch-and-rinse
to start etch {2}
at 0:50 look
> heading Etch 11
> bar     Rinse 11
> tooth   11
> when    6 s left
> watched -
> care    Acid burns: off skin, gum, eyes
> then    Rinse 21

# two-limits-over: The first is over its limit, the second can still be kept | veneers, etch-and-rinse
to start etch {2}
at 0:58 look
> heading Etch 21
> bar     Rinse 21
> when    2 s left
> tooth   21
> watched Etch 11 +0:02
> next    Rinse 11

# etch-next: The next tooth is in hand, the gel on the one before is watched | two-veneers
to start etch 11
at 0:03 look
> heading Etch 21
> bar     Gel on 21
> tooth   21
> clock   -
> watched Etch 11 0:27
`;
