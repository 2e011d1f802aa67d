/** Mishaps with units: acid, primer, light, a fall, a unit that will not go down. Read as `table.ts` says. */

export const UNITS = `
# acid-short: Acid came off the first unit too early | veneers, etch-and-rinse; universal; glass-ceramic
to end acid-rinse {2}
at 0:03 acid-short {1}
> heading Acid {1}
> bar     Acid on {1}
> tooth   {1}
> first   acid on this unit for what was missing
> care    HF burns deep: gloves, glasses on
> tap     {1} dropped
> then    Acid off {1}, rinsing
> then    {1} rinsed, water off

# acid-over: Acid on the first unit past its limit | veneers, etch-and-rinse; universal; glass-ceramic
to start acid {1}
at 2:10 acid-over {1}
> heading Acid {1}
> bar     Acid off {1}, rinsing
> over    {1}
> tooth   {1}
> clock   Acid {1}
> care    HF burns deep: gloves, glasses on

# abrasion-short: The first unit was abraded too briefly | zirconia, composite
to end abrade {2}
at 0:05 abrasion-short {1}
> heading Abrade {1}
> bar     Abrade {1}
> tooth   {1}
> first   Abrade this unit again
> care    Dust: closed box, glasses, mask
> then    {1} done

# abrasion-over: The first unit is abraded past its limit | zirconia, composite
to start abrade {1}
at 0:25 abrasion-over {1}
> heading Abrade {1}
> bar     {1} done
> over    {1}
> tooth   {1}
> clock   Abrade {1}

# phosphoric-used: Phosphoric acid touched the zirconia of the second unit | zirconia
to end dust-off {2}
at 0:05 phosphoric-used {2}
> heading Abrade {2}
> bar     Abrade {2}
> tooth   {2}
> first   Rinse thoroughly, then abrade the inside again and prime

# unit-waited: The first primed unit lay in the light | seating
to end primer-air {2}
at 0:10 unit-waited {1}
> heading Prime|Silane {1}
> bar     Primer on {1}
> tooth   {1}
> first   Clean the inside
> watched Light shield|Primed units closed {2}
> then    Air on, primer of {1}

# unit-saliva: Saliva in the first primed unit | seating
to end primer-air {2}
at 0:10 unit-saliva {1}
> heading Clean again|Abrade {1}
> bar     Gel in {1}|Abrade {1}
> tooth   {1}
> first   Phosphoric acid inside this unit|Abrade it again
> watched Light shield|Primed units closed {2}
> then    Gel off {1}|{1} done

# unit-blood: Blood in the second primed unit | seating
to end primer-air {2}
at 0:10 unit-blood {2}
> heading Clean again|Abrade {2}
> bar     Gel in {2}|Abrade {2}
> tooth   {2}
> first   Rinse the blood off with cold water at once, before it dries
> watched Light shield|Primed units closed {1}

# loaded-in-light: The first unit was loaded and lay in the light; the second waits beside the same cement | veneers, etch-and-rinse; universal; zirconia
to end load {1}
at 0:05 loaded-in-light {1}
> heading Load {2}
> bar     {2} loaded
> tooth   {2}
> watched Portion 1
> next    {1} wiped out, dry
> then    {2} seated

# loaded-in-light-alone: The first unit was loaded and lay in the light; nobody else waits for its cement | glass-ceramic, composite
to end load {1}
at 0:05 loaded-in-light {1}
> heading Wipe out {1}
> bar     {1} wiped out, dry
> tooth   {1}
> first   Wipe the cement out with solvent and dry
> care    Vapour: lid on, suction close
> then    Primer on {1}

# unit-dropped: The first unit fell when it was loaded; it is found, then the second goes on with the cement | veneers, etch-and-rinse; universal; zirconia
to end load {1}
at 0:03 unit-dropped {1}
> heading Find it {1}
> bar     {1} found, whole
> tooth   {1}
> never   {1} dropped
> watched Portion 1
> next    {2} loaded
> care    Loose unit: throat covered
> then    {2} loaded
> then    {2} seated

# unit-dropped-alone: The first unit fell when it was loaded; nobody else waits for its cement | glass-ceramic, composite
to end load {1}
at 0:03 unit-dropped {1}
> heading Find it {1}
> bar     {1} found, whole
> tooth   {1}
> says    count what is in the mouth
> care    Loose unit: throat covered
> then    {1} wiped out, dry

# unit-dropped-early: The second unit fell before any cement was out | seating
to end unit-resin|unit-bond|bond-air|bond-light {2}
at 0:05 unit-dropped {2}
> heading Find it {2}
> bar     {2} found, whole
> tooth   {2}
> says    Find {2}; count what is in the mouth
> never   {2} dropped
> never   wiped out

# unit-high: The first unit will not go down; the second goes on with the cement | veneers, etch-and-rinse; universal; zirconia
to end seat {1}
at 0:05 unit-high {1}
> heading Load {2}
> bar     {2} loaded
> tooth   {2}
> others  {1} Wipe out
> watched Portion 1
> next    {1} wiped out, dry
> never   looked over
> tap     {2} dropped

# unit-high-alone: The first unit will not go down; it has a portion of its own | glass-ceramic, composite
to end seat {1}
at 0:05 unit-high {1}
> heading Wipe out {1}
> bar     {1} wiped out, dry
> tooth   {1}
> first   Take it off, wipe the cement out with solvent, look for what holds it
> never   looked over
> then    Primer on {1}

# seated-blood: Blood ran in under the last unit | seating
to end seat {2}
at 0:05 seated-blood {2}
> heading Wipe out {2}
> bar     {2} wiped out, dry
> tooth   {2}
> first   Take the unit off, wipe it and the tooth clean, stop the bleeding
> calm    {1}

# seated-saliva: Saliva ran in under the first unit, which has a portion of its own | glass-ceramic, composite
to end seat {1}
at 0:05 seated-saliva {1}
> heading Wipe out {1}
> bar     {1} wiped out, dry
> tooth   {1}
> first   Take the unit off, wipe it and the tooth clean, rinse and dry both
> calm    {1}

# seated-saliva-others: Saliva ran in under the first unit; the second waits beside ageing cement | veneers, etch-and-rinse; universal; zirconia
to end seat {1}
at 0:05 seated-saliva {1}
> heading Load {2}
> bar     {2} loaded
> tooth   {2}
> watched Portion 1
> calm    {1}

# margin-bleeds: Blood at the margin of the first unit after its tack | seating
to end tack {1}
at 0:05 margin-bleeds {1}
> heading Lift excess {1}
> bar     Excess lifted, {1}
> tooth   {1}
> first   Leave the unit alone. Stop the bleeding by pressure
> watched Floss the contact

# one-of-eight: One of eight falls while the last of its portion waits | eight-upper-veneers
to end load 21
at 0:04 unit-dropped 21
> heading Find it 21
> bar     21 found, whole
> tooth   21
> watched Portion 1
> next    12 loaded
> never   All units
> then    12 loaded
> then    12 seated
> then    Excess brushed, 12

# one-of-eight-high: One of eight will not go down; it gets a portion of its own | eight-upper-veneers
to end seat 21
at 0:04 unit-high 21
> heading Load 12
> bar     12 loaded
> tooth   12
> next    21 wiped out, dry
> then    12 seated

# last-of-mix-high: The last of its portion will not go down, too late for that cement; it gets its own | eight-upper-veneers
to end seat 12
at 0:04 unit-high 12
> heading Wipe out 12
> bar     12 wiped out, dry
> tooth   12
> watched Resin waiting
> never   Portion 1
> then    Primer on 12

# one-of-four-high: One of four will not go down; the other of its portion is loaded and seated first | four-veneers-universal
to end load 11
at 0:04 unit-high 11
> heading Load 21
> bar     21 loaded
> next    11 wiped out, dry
> then    21 seated
> then    Excess brushed, 21

# fell-undone: The fall was pressed by mistake and is taken back | veneers, etch-and-rinse
to end load {1}
at 0:03 unit-dropped {1}
at 0:06 undo
> heading Seat 11
> bar     11 seated
> tooth   11
> watched Portion 1
> never   found
> tap     {1} dropped | {1} will not seat
`;
