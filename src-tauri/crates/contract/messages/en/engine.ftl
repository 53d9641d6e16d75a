# Words for everything the engine decides: used by the command line, the calendar and the screens alike.
#
# Conventions
# - The word for a value of a list is `<list>-<value>`, the value as the contract spells it with `-` for `_`
#   (`phase-late-summer`, `shelter-kind-wrapped-bed`).
# - Figures arrive as text in the reader's units. Counts (`Count`) and spans of days (`Days`) arrive as numbers,
#   so that the plural rules of the language apply.
# - Each reason is one sentence. A test compares keys and figure names with the planner's table.

## Parts of the year's work

phase-late-summer = Late summer
phase-cuttings = Cuttings and tubers
phase-move-in = Moving in
phase-close-up = Close-up
phase-winter-round = Winter rounds
phase-uncover = Uncovering
phase-warm-up = Warming up
phase-harden-off = Hardening off
phase-move-out = Moving out
phase-season-end = Season’s end

## Weather a chore needs

weather-dry = dry
weather-low-wind = little wind
weather-above-five = above 5{"\u00A0"}°C (41{"\u00A0"}°F) by day
weather-no-hard-freeze = no hard freeze in the coming night
weather-frost-free = above freezing
weather-overcast = overcast or mild sun
weather-sunny = sunshine
weather-clear-night = a clear, calm, cold night

## Cautions: a heading and the whole text

caution-heater-title = Heater: fire
caution-heater =
    Keep everything that can burn (film, fleece, bubble wrap, dry leaves, timber) at least 0.9{"\u00A0"}m (3{"\u00A0"}ft) away on all sides.
    Use a tested, listed, thermostat-controlled heater made for greenhouses or workshops with tip-over and overheat cut-off, fixed in place or standing level on a hard floor, never on a bench or shelf.
    Plug it straight into a socket on its own circuit: no extension cord, no power strip.
    Frost heat runs unattended at night, so fit a smoke alarm you can hear indoors and have a fixed heater wired by a licensed electrician.
    Local codes come first.
caution-electricity-title = Electricity near water
caution-electricity =
    Water, soil and mains electricity meet here. Use only a circuit with a residual-current device (RCD, GFCI), fittings rated for wet places, and drip loops in every cable.
    Test the device before each season. Switch off before you water, clean or move anything.
    A damaged cable or warm plug goes out of use at once.
    Fixed wiring is work for a licensed electrician under the local code.
caution-fuel-gas-title = Flame: carbon monoxide
caution-fuel-gas =
    A flame makes carbon monoxide, which nobody sees or smells. Never run an unvented flame heater, a grill or a generator in a closed house, garage or cellar, nor with the door merely ajar.
    Use a listed heater vented to the outside with its own supply of fresh air, fitted and checked by a licensed gas or heating fitter.
    Fit a carbon monoxide alarm and a smoke alarm, and test both.
    Keep cylinders and cans outdoors, upright and away from sparks; refuel only when cold.
    If an alarm sounds or you feel dizzy or sick: out into the open air, then call the emergency number.
caution-ladder-title = Ladder
caution-ladder =
    Set the ladder on firm, level, dry ground, lean a straight one at about one to four, and secure its top or have somebody hold it.
    Keep three points of contact, stay off the top rungs, reach no further than your belt, and stay down in wind, ice or wet.
    Never lean on or step onto glazing.
caution-snow-load-title = Snow and ice
caution-snow-load =
    Wet snow is heavy: 20{"\u00A0"}cm (8{"\u00A0"}in) can weigh 100{"\u00A0"}kg per square metre (20{"\u00A0"}lb per square foot) and more.
    Do not go inside or under a loaded house. Clear it early, from outside and from the ground, with a soft broom, both sides by turns.
    Never pour hot water on glass, and keep clear of sliding snow and falling ice.
    If the frame bends or creaks, stay away.
caution-toxic-plant-title = Poisonous plant
caution-toxic-plant =
    Parts of this plant are poisonous or its sap irritates. Wear gloves and eye protection to cut it, wash hands and tools, and do not burn the cuttings.
    Keep plants, cuttings and water from the saucer away from children, pets and livestock.
    After swallowing or sap in the eyes, call the poison centre or a doctor at once and name the plant; for animals, a vet.
caution-heavy-lift-title = Heavy pot
caution-heavy-lift =
    A wet 50{"\u00A0"}L (13{"\u00A0"}gal) pot can weigh more than 60{"\u00A0"}kg (130{"\u00A0"}lb). Move it with a sack truck, straps or a second person; let it dry a little first.
    Lift with your legs and a straight back, wear sturdy shoes, and clear the way of hoses, ice and steps.
caution-sharp-edge-title = Blades and glass
caution-sharp-edge =
    Wear gloves, and eye protection with glass or wire. Cut away from yourself, close or sheathe blades in between, and carry panes upright with two hands.
    Clean blades between plants, for their sake. Wrap broken glass before it goes in the bin.
caution-pest-control-title = Pest control
caution-pest-control =
    Try washing, wiping and hand-picking first. Use only products approved where you live, for this plant and for a closed space, and follow the label: dose, gloves, breathing protection, waiting time.
    Never spray in a closed shelter with people or animals in it, and air it well before you go back in.
    Keep products in their own packs, locked away from children and frost.

## Stages of a zone or planting

stage-growing = growing
stage-hardening = hardening
stage-dormant = at rest
stage-waking = waking
stage-out = outdoors

## Freeze events

event-first-autumn = first in autumn
event-last-spring = last in spring
band-kind-first-autumn = First autumn night
band-kind-last-spring = Last spring night
trend-falling = nights getting colder
trend-rising = nights getting milder

## Shelters and zones

shelter-kind-greenhouse = greenhouse
shelter-kind-cold-frame = cold frame
shelter-kind-garage = garage or shed
shelter-kind-cellar = cellar
shelter-kind-porch = porch
shelter-kind-room = room of a heated house
shelter-kind-wrapped-bed = wrapped bed
light-dark = dark
light-dim = dim
light-bright = bright

## Plants

container-pot = pot of { $volume }
container-ground = in the ground
container-lifted = lifted, stored without soil
habit-evergreen = evergreen
habit-deciduous = drops its leaves
habit-semi-evergreen = evergreen that drops its leaves when cold or dark
habit-tuber = tuber, rhizome or corm
habit-herbaceous = herbaceous plant or sub-shrub
habit-succulent = succulent
water-class-dry = none while cold
water-class-sparing = a little, rarely
water-class-moderate = never dry, never wet
water-class-moist = root ball moist throughout
move-in-pass-early = in while nights are still mild
move-in-pass-before-frost = in before the first frost
move-in-pass-light-frost = in at the first light frosts
move-in-pass-last-in = in only when frost persists
evidence-published = from a publication
evidence-trade = from a trade or hobby page
evidence-memory = value from memory, not confirmed
evidence-own = your own figure

## Climate

record-source-ghcn-fixed-width = GHCN-Daily, fixed width
record-source-ghcn-csv = GHCN-Daily, comma-separated
record-source-plain-csv = plain daily table
basis-measured = { $seasons ->
    [one] one season of a station’s record, { $first }
   *[other] { $seasons } seasons of a station’s record, { $first } to { $last }
}
basis-typed = a typical year built from the averages you typed, not a record

## Targets and states

target-kind-site = the whole place
target-kind-shelter = shelter
target-kind-zone = zone
target-kind-planting = planting
state-open = to do
state-done = done on { $date }
state-skipped = left out on { $date }: { $reason }

## What a newcomer needs next

next-step-site = Say where your plants are: name, latitude, longitude and time zone.
next-step-climate = Import a climate file of a station near you, or enter your average first and last freeze.
next-step-shelter = Add the shelters in which plants spend the winter.
next-step-plants = Add your plants.

## Quantities

figure-coordinates =
    { $latitude }° { $north_south ->
        [south] south
       *[north] north
    }, { $longitude }° { $east_west ->
        [west] west
       *[east] east
    }
figure-temp-c = { $number }{"\u00A0"}°C
figure-temp-f = { $number }{"\u00A0"}°F
figure-diff-c = { $number }{"\u00A0"}°C
figure-diff-f = { $number }{"\u00A0"}°F
figure-share = { $number }%
figure-volume-l = { $number }{"\u00A0"}L
figure-volume-gal = { $number }{"\u00A0"}gal
figure-area-m2 = { $number }{"\u00A0"}m²
figure-area-ft2 = { $number }{"\u00A0"}ft²
figure-air-m3 = { $number }{"\u00A0"}m³
figure-air-ft3 = { $number }{"\u00A0"}ft³
figure-length-m = { $number }{"\u00A0"}m
figure-length-ft = { $number }{"\u00A0"}ft
figure-speed-kmh = { $number }{"\u00A0"}km/h
figure-speed-mph = { $number }{"\u00A0"}mph
figure-energy-kwh = { $number }{"\u00A0"}kWh
figure-power-w = { $number }{"\u00A0"}W
figure-heat-btu-per-h = { $number }{"\u00A0"}BTU/h
figure-current-a = { $number }{"\u00A0"}A
figure-hours-decimal = { $number }{"\u00A0"}h
figure-days = { $number ->
    [one] { $number } day
   *[other] { $number } days
}
figure-minutes = { $minutes }{"\u00A0"}min
figure-hours = { $hours }{"\u00A0"}h
figure-hours-minutes = { $hours }{"\u00A0"}h { $minutes }{"\u00A0"}min
figure-date = { $day } { $month } { $year }
figure-date-short = { $weekday } { $day } { $month }
figure-date-short-year = { $day } { $month } { $year }
figure-day-and-month = { $day } { $month }
month-1 = January
month-2 = February
month-3 = March
month-4 = April
month-5 = May
month-6 = June
month-7 = July
month-8 = August
month-9 = September
month-10 = October
month-11 = November
month-12 = December
month-short-1 = Jan
month-short-2 = Feb
month-short-3 = Mar
month-short-4 = Apr
month-short-5 = May
month-short-6 = Jun
month-short-7 = Jul
month-short-8 = Aug
month-short-9 = Sep
month-short-10 = Oct
month-short-11 = Nov
month-short-12 = Dec
weekday-1 = Monday
weekday-2 = Tuesday
weekday-3 = Wednesday
weekday-4 = Thursday
weekday-5 = Friday
weekday-6 = Saturday
weekday-7 = Sunday
weekday-short-1 = Mon
weekday-short-2 = Tue
weekday-short-3 = Wed
weekday-short-4 = Thu
weekday-short-5 = Fri
weekday-short-6 = Sat
weekday-short-7 = Sun

## Reasons of the planner

# What a date rests on.
reason-freeze-first = By { $date } the first night of autumn at or below { $limit } has come in { $chance } of the years.
reason-freeze-last = After { $date } a night at or below { $limit } still comes in { $chance } of the springs.
reason-low-falls = From { $date } on, more than { $chance } of single nights get down to { $limit } or colder.
reason-low-rises = From { $date } on, no more than { $chance } of single nights get down to { $limit } or colder.
reason-after-chore = Counted from “{ $chore }”, planned for { $date }.
reason-after-chore-done = Counted from “{ $chore }”, done on { $date }.
reason-stage-growing = { $plant } is expected to start growing around { $date }.
reason-stage-hardening = { $plant } is expected to stop growing and harden from { $date }.
reason-stage-dormant = { $plant } is expected to be at rest from { $date }.
reason-stage-waking = { $plant } is expected to wake around { $date }.
reason-stage-out = { $plant } is expected to be outdoors from { $date }.
reason-calendar = By the calendar: { $date }; the climate record gives no better date for this.
reason-days-after = This is set { $days ->
    [one] a day
   *[other] { $days } days
} later.
reason-days-before = This is set { $days ->
    [one] a day
   *[other] { $days } days
} earlier.
reason-earliest = Not before { $earliest }.
reason-latest = Not after { $latest }.
reason-latest-killing = Not after { $latest }: plants die beyond that date.

# Why a limit is what it is.
reason-limit-planting = { $plant } is damaged at { $limit } and below in winter.
reason-limit-own = { $plant } is damaged at { $limit } and below, by your own figure.
reason-limit-in-leaf = { $plant } is damaged at { $limit } and below while in leaf.
reason-limit-move-in = { $plant } comes in when nights get down to { $limit }.
reason-limit-move-out = { $plant } may go out when nights stay above { $limit }.
reason-hold-bare = { $place } usually stays { $hold } above outdoors without its cover, so { $plant }, which stands { $inside } there, is in danger at { $limit } outdoors.
reason-hold-covered = { $place } usually stays { $hold } above outdoors under its cover, so { $plant }, which stands { $inside } there, is in danger at { $limit } outdoors.
reason-tenderest = { $plant } is { $count ->
    [one] the only planting
   *[other] the tenderest of { $count } plantings
} in { $place }.
reason-repeat = Round { $number }: { $days ->
    [one] every day
   *[other] every { $days } days
} until { $until }.
reason-repeat-done = Round { $number }: { $days ->
    [one] a day
   *[other] { $days } days
} after it was last done, on { $date }.

# What moved the day.
reason-levelled = Not on its best day, { $best }: the days you work around it are full or there is none.
reason-before-chore = Comes before “{ $chore }”, which must be done by { $date }.
reason-several-days = Takes { $minutes } minutes, more than one of your days has: spread over { $count } days.
reason-waits-for = Waits for “{ $chore }”, planned for { $date }.
reason-moved = You chose the day: { $date }.
reason-due-now = Its latest date, { $latest }, was past when you began on { $began }, but it still matters: do it at once.
reason-settled-gone = It was settled; what it was done for or its rule is no longer there.

# What the climate figures rest on.
reason-basis-measured = Figures from { $seasons ->
    [one] one season
   *[other] { $seasons } seasons
} of a station’s record, { $first } to { $last }.
reason-basis-typed = Figures from a typical year built from the averages you typed, not from a record.

# What would change the date.
reason-change-record = A station’s daily record in place of the typed averages would make this date surer.
reason-change-limit = A limit of your own for { $plant } would move this date.
reason-change-hold = A measured hold for { $place } in place of the usual one would move this date.
reason-change-chore = Doing or moving “{ $chore }” moves this date.

# Problems of the plan; what each is about is named beside it.
problem-no-zone = It has no winter place yet: choose a zone for it.
problem-unknown-plant = Its plant “{ $key }” is not in the catalogue, so it is left out: choose another plant or add that one.
problem-no-place = It names a place (“{ $key }”) that does not exist: choose its place again.
problem-no-climate = Nothing is known of the nights here, so only calendar dates can be given: import a climate file or type your averages.
problem-never-reached = Nights at or below { $limit } do not come with a chance of { $chance } here, so the chore is left out for { $count ->
    [one] one target
   *[other] { $count } targets
}.
problem-no-date = Nothing gives it a date, so it is left out for { $count ->
    [one] one target
   *[other] { $count } targets
}.
problem-window-empty = Its earliest date, { $earliest }, comes after its latest, { $latest }: no day suits both.
problem-order = “{ $chore }” must come first but cannot before { $earliest }, after this chore’s latest date, { $latest }.
problem-overload = The work of { $date } takes { $minutes } minutes of the { $available } you have, and no other day is free in time: find help or start earlier.
problem-no-work-day = No day on which you work is left between { $from } and { $latest }, so it is planned for a day off.
problem-late = No free work day is left by its latest date, { $latest }, so it is planned for { $date }; nothing dies of that.
problem-moved-past-killing = You moved it to { $date }, past { $latest }: plants die beyond that date.
problem-moved-past-latest = You moved it to { $date }, past its latest date, { $latest }.
problem-moved-too-early = You moved it to { $date }, before its earliest date, { $earliest }.
problem-done-before = “{ $chore }” must come first and is still open.
problem-moved-before = You moved it before “{ $chore }”, which must come first and is planned for { $date }.
problem-began-late = { $count ->
    [one] One chore was
   *[other] { $count } chores were
} over before you began on { $began } and { $count ->
    [one] is
   *[other] are
} left out.

## The night call: steps, sky, alternatives

night-step-rest = nothing to do
night-step-ready = stand ready
night-step-heat = heat
night-step-shield = cover or move
sky-clear = clear
sky-half = half clouded
sky-overcast = overcast
alternative-kind-cover = put the cover on
alternative-kind-move = move tender pots
alternative-kind-lower-setting = set the thermostat lower

# What to do.
night-do-nothing = Nothing to do: with a low of { $low } outdoors no plant’s limit is in reach.
night-do-heat = Heat { $place }: thermostat at { $set }, its sensor in “{ $zone }”.
night-do-ready = Keep the heater of { $place } ready, thermostat at { $set }, its sensor in “{ $zone }”: there is a chance of { $chance } that it is needed.
night-do-watch = Keep an eye on { $place }: there is a chance of { $chance } that { $plant } (“{ $zone }”) passes its limit.
night-do-shield = Cover or move { $plant } in { $place } (“{ $zone }”): there is no heater, and there is a chance of { $chance } that it passes its limit of { $limit }.
night-do-shield-ground = Cover { $plant } in { $place } (“{ $zone }”) with more layers: it stands in the ground, there is no heater, and there is a chance of { $chance } that it passes its limit of { $limit }.

# Why.
night-zone-low = “{ $zone }” gets down to { $low } with the heater off ({ $from } to { $to } in eight nights of ten), with { $outside } outdoors.
night-zone-limit = Most tender there: { $plant }, damaged at { $limit } and below, which has a chance of { $chance }.
night-zone-own-limit = Most tender there: { $plant }, damaged at { $limit } and below by your own figure, which has a chance of { $chance }.
night-heat-below = On such a night { $place } needs heat or more cover when it gets colder than { $low } outdoors.
night-heat-takes = Heating takes about { $energy } ({ $hours } of full heat); one night in ten takes more than { $most }.
night-heat-short = This heater may be too small for { $place }: with it on, a chance of { $chance } remains that a limit is passed.
night-set-too-low = Its thermostat stands at { $kept }; the plants in { $place } need { $set }.

# What is cheaper than heat.
night-cover-helps = With its cover on, { $place } stays { $gain } warmer and the chance of passing a limit falls from { $before } to { $chance }.
night-move = Move to { $to }: { $plants }. That place is expected to stay at { $low } or above in nine nights of ten.
night-lower-setting = { $set } is enough for the plants in { $place } and takes { $less }; keeping { $kept }, as you set it, takes { $energy }.

# What was taken for what nobody said.
night-assumed-cloud = No clouds were given: a clear sky is taken, the coldest case.
night-assumed-wind = No wind was given: nearly still air is taken.
night-assumed-cover-on = The cover of { $place } is taken to be on, since you ticked it.
night-assumed-cover-off = The cover of { $place } is taken to be off: putting it on is not ticked in the plan.
night-assumed-cover-usual = The winter cover of { $place } is taken to be the usual one, since none is recorded: { $cover }.
night-assumed-heater = No heater is recorded in { $place } though one stands ready: an electric fan heater of { $power } is taken.
night-assumed-heaters-together = The heaters in { $place } are reckoned as one of { $power } on the thermostat of the strongest.
night-assumed-build = Form, glazing and walls are taken as usual for the kind of shelter, since they are not recorded: { $place }.

# What the figures rest on.
night-rests-handbook = Handbook figures for glazing, walls and leaks, not measured here yet: the model’s own error is taken as { $error } (standard deviation).
night-rests-forecast = The outdoor low is taken to miss by { $error } (standard deviation), as forecasts of this lead do.
night-rests-days-measured = The days before are those of your climate record.
night-rests-days-climate = The days before are taken as usual for the date. After several bitter nights pots and soil have given up their warmth and a shelter holds less.
night-rests-days-latitude = Nothing is known of the climate here, so usual days for the latitude are taken; a climate file would make this surer.

## Nights on record, forecasts and the hold ahead

# Where the low comes from.
night-low-met-norway = The low is MET Norway’s forecast: { $low }.
night-low-us-nws = The low is the forecast of the US National Weather Service: { $low }.
night-low-file = The low is that of the forecast you saved: { $low }.
night-low-milder-here = Your thermometer has read milder than the forecast on { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours, so { $shift } are added.
night-low-colder-here = Your thermometer has read colder than the forecast on { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours, so { $shift } are taken off.
night-low-usual = No low was given and no fresh forecast is at hand: the usual low of the date is taken, { $low }. Single nights differ from it by { $error } (standard deviation).

# What nights on record say.
night-rests-low-nights = The outdoor low is taken to miss by { $error } (standard deviation), from { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours.
night-rests-nights = The model’s own error in { $place } is taken as { $error } (standard deviation), from { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours.
night-rests-nights-milder = { $place } has held more than handbook figures say: { $shift } are added, from { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours.
night-rests-nights-colder = { $place } has held less than handbook figures say: { $shift } are taken off, from { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours.
night-doubt-typed = Lows that you typed are taken to miss by { $error } (standard deviation), from { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours.
night-doubt-forecast = Forecast lows are taken to miss by { $error } (standard deviation), from { $nights ->
    [one] one night
   *[other] { $nights } nights
} of yours.
night-doubt-none = No night of yours is on record yet with both a prediction and what came. Ask for the night in the evening and enter the lows in the morning: after a week half of the stated doubt is your own.

# The hold over the nights ahead.
night-hold-lives-on = Without heat, the hold lives on the warmth of the ground, pots and walls, which each night spends and each day partly gives back.
night-hold-pots = { $volume } of pots give off { $energy } once while their water freezes; after that they only cool.
night-hold-fades = The hold falls from { $first } in the first night to { $last } in the last of { $nights }.
night-hold-lasts = The hold stays about the same: { $first } in the first night, { $last } in the last of { $nights }.
night-hold-grows = The hold grows from { $first } in the first night to { $last } in the last of { $nights }.
night-hold-freezing = From the night of { $date } the coldest pots begin to freeze, up to { $share } of their water.
night-hold-limit = In the night of { $date } “{ $zone }” passes { $limit }, the limit of { $plant }.
night-hold-restored = Sun on the floor and days well above freezing restore it; a cover that lets light through keeps more of them than a dark one.
night-hold-thaw = Pots that froze take up { $energy } again before they warm.
night-hold-forecast = { $nights ->
    [one] One night is
   *[other] { $nights } nights are
} taken from the forecast.
night-hold-usual = { $nights ->
    [one] One night is
   *[other] { $nights } nights are
} taken as usual for the date.

## The heat loss of a shelter

part-roof = roof
part-side = long sides
part-end = ends
part-house-wall = wall to the house
part-door = door
part-window = window
part-vent = vent
loss-outside-once = Reckoned for { $outside } outdoors, which your climate undercuts once in { $years } years.
loss-outside-typed = Reckoned for { $outside } outdoors, as you asked.
loss-inside-typed = Kept at { $inside } inside, as you asked.
loss-inside-kept = Kept at { $inside } inside, so that “{ $zone }” stays at { $kept } as you set it.
loss-inside-limit = Kept at { $inside } inside: “{ $zone }” needs it for { $plant }, which is damaged at { $limit } and below.
loss-inside-frost-free = Kept at { $inside } inside: no plants are there yet, so frost is kept out.
loss-cover-saves = The winter cover saves { $share } of the heat.
loss-margin = The heater’s size is the loss with a margin of { $share }.
loss-neighbours = Heated rooms or warm earth beside it give more than it loses: no heater is needed on such a night.
loss-average-night = U-values hold for an average winter night; a clear sky with wind can take a quarter more.
loss-heaters-enough = The heat that stands ready, { $power }, covers the { $needed } that such a night calls for.
loss-heaters-enough-covered = The heat that stands ready, { $power }, is enough under the cover only: { $needed } are called for then.
loss-heaters-short = The heat that stands ready, { $power }, is less than the { $needed } that such a night calls for: it is enough down to { $low } outdoors.
loss-assumed-circuit = Checked on an outlet circuit of { $volts } V and { $rated }, straight from the wall.

## The winter’s bill: names of set-ups

set-up-bare = bare
set-up-recorded = as recorded
set-up-cover-tarp-dark = dark tarp
set-up-cover-bubble-film = bubble film
set-up-cover-film-second = second film
set-up-cover-fleece = fleece
set-up-cover-foam-board = foam board
set-up-cover-straw-mat = straw mat
set-up-kept = { $name }, kept at { $set }
set-up-other-heater = { $name }, { $heater }

# What the bill rests on.
winter-rests-record = Run through { $winters ->
    [one] one winter
   *[other] { $winters } winters
} of your climate record, { $first } to { $last }.
winter-rests-averages = Run through { $winters ->
    [one] one winter
   *[other] { $winters } winters
} drawn from the averages that you typed; a climate file would make this surer.
winter-rests-file = Run through { $winters ->
    [one] one winter
   *[other] { $winters } winters
} of the hours in “{ $file }”, { $first } to { $last }: { $days ->
    [one] one day
   *[other] { $days } days
} of winter.
winter-rests-draws = Each winter is run { $draws ->
    [one] once
   *[other] { $draws } times, as much warmer or colder as your garden may differ from its station ({ $site }, standard deviation) and the model from your house ({ $model })
}.
winter-daily-weather = The climate tells lows and highs alone: hours between them follow the sun, clouds are taken from the range of the day, the wind as light and steady.
winter-span-north = A winter is reckoned from October to April.
winter-span-south = A winter is reckoned from April to October.
winter-put-together = The file holds one calendar year: its last months are put before its first ones to make one winter of { $year }.
winter-odd-warmest-hour = In this file it is warmest at { $hour } by the sun of your place, not early in the afternoon: check that its times are in UTC or carry their offset, and that its station lies near you. Until then its sun and its cold do not fit together.
winter-left-out = { $winters ->
    [one] One winter is left out because too many of its days are missing
   *[other] { $winters } winters are left out because too many of their days are missing
}: one needs nine days in ten and no more than five missing in a row.
winter-scraps-left-out = { $winters ->
    [one] One more winter is left out because the file holds
   *[other] { $winters } more winters are left out because the file holds
} less than a month of it.
winter-highs-assumed = Where the record has a low without a high, the usual range of the month is taken.
winter-hours-filled = { $hours ->
    [one] One missing hour is
   *[other] { $hours } missing hours are
} filled from the hours around.
winter-values-dropped = { $values ->
    [one] One value that cannot be true is
   *[other] { $values } values that cannot be true are
} left out.
winter-estimated-moisture = Humidity is estimated from the day’s low for { $hours ->
    [one] one hour
   *[other] { $hours } hours
}.
winter-estimated-wind = Wind is estimated for { $hours ->
    [one] one hour
   *[other] { $hours } hours
}.
winter-estimated-cloud = Clouds are estimated from the sun or from the range of the day for { $hours ->
    [one] one hour
   *[other] { $hours } hours
}.
winter-estimated-sun = Sunshine is estimated from clouds and the height of the sun for { $hours ->
    [one] one hour
   *[other] { $hours } hours
}.
winter-covers-stay-on = Covers without dates are taken to stay on all winter.
winter-no-price = The price of a fuel is not known, so its cost is left out.

# What a set-up takes and leaves of risk.
winter-heats = Thermostat at { $set }: heats in { $nights ->
    [one] one night
   *[other] { $nights } nights
} and takes { $energy } in the mean winter; one winter in ten takes more than { $most }.
winter-hardly-heats = Thermostat at { $set }: hardly any heat is needed.
winter-no-heater = No heater: what is said of risk is the shelter alone.
winter-nothing-to-heat-for = Nothing stands in it that needs heat, so none is given.
winter-saves = Saves { $energy } ({ $share }) against “{ $first }”.
winter-takes-more = Takes { $energy } ({ $share }) more than “{ $first }”.
winter-keeps-sun-out = Its covers keep { $share } of the sun out, which would warm floor and pots by day. They pay in bitter spells and for plants at rest; taking them off on mild, bright days saves heat.
winter-risk = “{ $zone }” passes the limit of { $plant } ({ $limit }) in { $chance } of the winters, in about { $nights ->
    [one] one night
   *[other] { $nights } nights
} in ten winters.
winter-risk-none = No zone passes its limit in any winter.
winter-no-limits = No plants are recorded here, so there is no limit to pass.
winter-risk-falls = The share of winters in which some limit is passed falls from { $before } to { $chance }.
winter-risk-rises = The share of winters in which some limit is passed rises from { $before } to { $chance }.
winter-heater-short = The heater gives { $power }, but a night as cold as comes once in ten years takes { $needed }: nights too cold for it remain.

## Circuit, cord and flame

finding-breaker-too-small = Not like this: { $current } on a breaker of { $rated }.
finding-over-continuous-limit = Not like this: { $current } for hours on end, where the circuit allows { $allowed }. A heater of up to { $fits } fits.
finding-heater-on-cord = Not like this: a heater never hangs on an extension cord. Plug it straight into its outlet, or have it wired in.
finding-cord-too-thin = Not like this: { $current } through a cord made for { $allowed }.
finding-cord-wound-up = Unwind the cord all the way: wound up, it heats itself.
finding-cord-not-for-outdoors = The cord is not made for outdoors.
finding-voltage-drop = The cord loses { $share } of the voltage; thicker or shorter is better.
finding-no-residual-current-device = Have a residual-current device (RCD, GFCI) on this circuit: water and electricity meet here.
finding-too-close = Not like this: { $clearance } to something that can burn; keep { $needed }.
finding-unattended-portable = Makers and fire services say never to leave a portable heater unattended, yet frost heating runs while you sleep: use a fixed, listed heater with its own thermostat on its own circuit, with a temperature alarm and a smoke alarm.
finding-carbon-monoxide = A flame without a flue makes carbon monoxide: alarm, fresh air, and nobody sleeps there.
finding-too-tight-for-flame = Not like this: the shelter leaks less air than the flame takes.
finding-adds-moisture = The flame adds water to the air, which condenses on plants and panes.
finding-fumes-harm-plants = Fumes of a flame harm plants: leaves and buds drop.
finding-local-codes-decide = Local codes and a licensed electrician or gas fitter decide.
finding-circuit-unknown = What this heater hangs on is not recorded: enter voltage and breaker to have it checked.

## Placement of heaters and sensors

placement-in-blast = “{ $heater }” blows at { $share } of “{ $zone }” and dries out what stands there: { $plants }. Turn it away or move them.
placement-too-close-side = “{ $heater }” stands { $distance } from a side of the shelter; keep { $needed } from film, wood and anything else that can burn.
placement-too-close-zone = “{ $heater }” stands { $distance } from “{ $zone }”; keep { $needed } from plants, pots and anything else that can burn.
placement-no-shield = “{ $heater }” has no shield: put a sheet that cannot burn between it and everything near it.
placement-sensor-in-blast = “{ $sensor }” hangs where “{ $heater }” warms it directly, so the thermostat would turn off while the plants freeze: hang it at the coldest plants.
placement-coldest-unwatched = The nearest sensor hangs { $distance } from the spot that is likely the coldest: hang one there.
placement-coldest-without-sensor = No sensor hangs in this shelter: hang one at the spot that is likely the coldest.

## Loggers’ files

quantity-temp-c = temperature
quantity-humidity-share = humidity
quantity-power-w = power
log-unit-celsius = °C
log-unit-fahrenheit = °F
log-unit-kelvin = K
date-order-day-month-year = day, month, year
date-order-month-day-year = month, day, year
date-order-year-month-day = year, month, day
delimiter-comma = commas
delimiter-semicolon = semicolons
delimiter-tab = tabs
delimiter-bar = bars
delimiter-blanks = blanks
decimal-mark-point = decimal point
decimal-mark-comma = decimal comma
text-encoding-utf8 = UTF-8
text-encoding-utf16-le = UTF-16 (LE)
text-encoding-utf16-be = UTF-16 (BE)
text-encoding-windows1252 = Windows-1252
known-from-asked = as you said
known-from-file = as the file says
known-from-values = as its values tell
known-from-site = as at your place
reject-reason-short = rows without a time
reject-reason-cut-off = rows cut off
reject-reason-no-time = no date and time
reject-reason-no-such-day = days that do not exist
reject-reason-future = in the future
reject-reason-clock-not-set = clock not set
reject-reason-no-number = no number
