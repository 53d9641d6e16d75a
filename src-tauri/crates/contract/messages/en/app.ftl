# Words of the screens. What the engine decides is worded in engine.ftl.
#
# Figures arrive as text in the reader's units; counts arrive as numbers, so that plural rules apply.

app-name = Hibernacle

## Frame

nav-label = Places
nav-today = Today
nav-season = Season
nav-shelter = Shelter
nav-setup = Set-up
skip-to-content = Skip to the content
site-choice = Site shown
theme-label = Light or dark
theme-auto = As the device
theme-light = Light
theme-dark = Dark
toasts-label = Messages
no-place-title = Nothing here
no-place-heading = No place at this address
no-place-lead = The address may be mistyped, or what it led to is gone.

## Words on many buttons and fields

cancel = Cancel
close = Close
edit = Change
edit-named = Change { $name }
loading = Loading
optional = optional
remove = Remove
remove-named = Remove { $name }
retry = Try again
save = Save
save-and-go-on = Save and go on
undo = Undo
field-missing = Fill this in.
field-not-a-number = Enter a number, such as 2.5.
field-not-whole = Enter a whole number.
place-name = { $shelter }, { $zone }

## Failures

failure-advice = This needs a change first
failure-unreadable = The file could not be read
failure-not-found = This is no longer there
failure-too-new = The data is from a newer version
failure-storage = The data could not be read or written
failure-unreachable = The program does not answer
failure-unreachable-mend = Check that Hibernacle is still running, then try again. Nothing you had saved is lost.
failure-refused = This was refused
failure-internal = Something went wrong in the program
failure-file-line = { $file }, line { $line }

## Messages after a change

toast-done = Done: { $title }
toast-skipped = Left out: { $title }
toast-moved = Moved to { $day }: { $title }
toast-undone = Taken back: { $title }
toast-closed-up = { $zone } is closed up for winter.
toast-removed = { $name } was removed.
toast-restored = { $name } is back.
toast-saved = Saved.
toast-added = { $count ->
    [one] Added: { $name }
   *[other] Added: { $count } × { $name }
}
toast-climate = The plan now rests on this climate.
toast-own-saved = { $name } is in your catalogue.
toast-calendar = { $count ->
    [one] { $name } with one chore was handed over.
   *[other] { $name } with { $count } chores was handed over.
}

## How urgent a chore is

standing-late = Late
standing-due = Due
standing-soon = Soon
standing-later = Later
standing-done = Done
standing-skipped = Left out
chore-done-on = on { $day }
chore-skipped-on = { $day }: { $reason }
chore-late = { $days ->
    [one] since yesterday, the last day was { $day }
   *[other] since { $days } days, the last day was { $day }
}
chore-due = by { $day }, { $relative }
chore-due-last-day = today is the last day
chore-planned = { $day }, { $relative }
chore-weather = needs: { $weather }

## Doing something with a chore

chore-done-action = Done
chore-done-label = Mark as done: { $title }
chore-undo-label = Take back: { $title }
chore-undo-move = Back to the planned day
chore-skip-action = Leave out…
chore-move-action = Another day…
skip-title = Leave this out?
skip-lead = “{ $title }” will count as settled. You can take this back at any time.
skip-required = Without this step its zone still counts as closed up; the checklist shows that it was left out, and why.
skip-reason = Why
skip-missing = Say why in a few words, so that you know next year.
skip-not-needed = Not needed this year
skip-no-plants = No such plants here
skip-other-way = Solved in another way
skip-confirm = Leave out
move-title = Another day
move-lead = When will you do “{ $title }”?
move-day = Day
move-window = The plan allows { $from } to { $to }.
move-killing-title = This is past the killing date
move-killing = After { $day } a night can come that these plants do not survive. Move it only if you protect them in another way until then.
move-past = This is later than the plan’s last day, { $day }.
move-confirm = Move
move-anyway = Move all the same

## The why of a chore

why-title = Why
proof-title = How to prove it
weather-title = Weather it needs
after-title = Comes after
caution-heading = Take care
history-title = What happened so far
history-done = Done on { $day }
history-skipped = Left out: { $reason }
history-moved = Moved to { $day }
history-undone = taken back
source-line = Source: { $source }
window-earliest = Not before
window-due = Planned
window-moved = Moved to
window-latest = Not after
window-killing = Killing date

## Today

today-word = today
today-count = { $late ->
    [0] { $due ->
        [one] One chore is due.
       *[other] { $due } chores are due.
    }
    [one] { $due ->
        [0] One chore is late.
        [one] One chore is late and one is due.
       *[other] One chore is late and { $due } are due.
    }
   *[other] { $due ->
        [0] { $late } chores are late.
        [one] { $late } chores are late and one is due.
       *[other] { $late } chores are late and { $due } are due.
    }
}
today-work = About { $time } of work.
today-calm = Nothing is due.
today-soon-count = { $soon ->
    [one] One more comes within seven days.
   *[other] { $soon } more come within seven days.
}
today-empty-title = All is quiet
today-next-lead = Next comes
today-nothing-ahead = The plan holds nothing more for this season.
today-see-season = Look at the season
today-settled = Settled today
place-count = { $late ->
    [0] { $due } due
   *[other] { $due ->
        [0] { $late } late
       *[other] { $late } late, { $due } due
    }
}
place-soon = { $soon ->
    [one] One in the next seven days
   *[other] { $soon } in the next seven days
}
day-title = Light of the day
day-sunset = Sunset { $time }: have covers closed before dusk.
day-length = Sunrise { $rise }, daylight for { $length }.
day-no-sunset = The sun does not set today.
day-no-sunrise = The sun does not rise today.

## First screen

welcome-title = Bring your tender plants through the winter
welcome-lead = Say where you garden, what shelter you have and which plants must live. You get a dated plan, with the reasons in numbers.
welcome-site = the spot, for daylight and season
welcome-climate = three averages, or a station’s record
welcome-shelter = greenhouse, garage, cellar, wrapped bed
welcome-plants = from the catalogue
welcome-start = Plan my season
welcome-demo = Look at the demo season
welcome-demo-hint = Larch Bank, an invented garden; you can remove it again.

## Set-up

setup-lead = What the plan rests on. Change anything; the plan follows and keeps what you did.
steps-label = Steps of the set-up
step-site = Where
step-climate = Winter
step-shelter = Shelters
step-plants = Plants
step-done = , done
next-site-title = Where are your plants?
next-site-lead = The place tells daylight and time, and which half of the year is winter.
next-site-go = Say where
next-climate-title = How cold does it get?
next-climate-lead = The plan needs the usual freeze dates: from a weather station’s record, or three averages you know.
next-climate-go = Describe the winter
next-shelter-title = What shelter do you have?
next-shelter-lead = Each kind holds its own number of degrees above the night outside.
next-shelter-go = Add a shelter
next-plants-title = Which plants must come through?
next-plants-lead = The tenderest plant of each zone sets its limit.
next-plants-go = Add plants
go-on-shelter = Go on to shelters
display-title = Display
display-hint = Kept on this device only. Units and currency belong to the site.
sites-title = Sites
site-chosen = shown now
site-choose = Show
site-add = Add another site
zone-count = { $count ->
    [one] one zone
   *[other] { $count } zones
}
plant-count = { $plants ->
    [one] One plant
   *[other] { $plants } plants
} in { $plantings ->
    [one] one planting
   *[other] { $plantings } plantings
}.

## The site

site-title = Where the plants are
site-title-new = Where are your plants?
site-lead = Daylight and season follow from the place. It stays on this device.
site-name = Name of the place
site-name-missing = Give the place a name.
site-latitude = Latitude
site-latitude-hint = North; south with a minus. A pair copied from a map fills both fields.
site-latitude-unread = Enter degrees, such as 47.7 or 47° 42′ N.
site-latitude-range = Latitudes lie between −90 and 90 degrees.
site-longitude = Longitude
site-longitude-hint = East; west with a minus.
site-longitude-unread = Enter degrees, such as 13.1 or 13° 6′ E.
site-longitude-range = Longitudes lie between −180 and 180 degrees.
site-elevation = Height above sea level
site-elevation-hint = Left empty: 200 m (660 ft).
site-time-zone = Time zone
site-currency = Currency
site-currency-hint = Three capital letters, such as EUR.
site-place = { $coordinates }, { $height }
habits-title = Units and time for the work
habits-line = { $temperature }, { $length }, { $volume }, { $currency }; { $days }, { $hours } h
unit-temperature = Temperature
unit-celsius = °C
unit-fahrenheit = °F
unit-length = Length
unit-metre = m
unit-foot = ft
unit-volume = Volume
unit-litre = L
unit-gallon = US gal
unit-hours = h
work-days = Days you have for the garden
work-days-hint = The plan spreads work over these days, but never past a date that kills.
work-any-day-short = any day
work-any-day = None ticked: any day will do.
work-hours = Hours on such a day

## Climate

climate-title = How cold does it get?
climate-lead = Freeze dates and winter lows date every chore.
climate-now = What the plan rests on
climate-change = Use another climate
climate-open = Look at freeze dates
climate-way = How will you describe the winter?
climate-way-typed = Three averages
climate-way-file = A station’s record
climate-first = Median first freeze
climate-last = Median last freeze
climate-minimum = Mean coldest night
climate-mostly-none = none in most years
climate-unknown = too few nights to tell
typed-freeze = A freeze is a night at or below 0 °C (32 °F).
typed-lead = Neighbours or the local weather service know these. A station’s record of many years is better.
typed-first = First freeze in autumn, on average
typed-last = Last freeze in spring, on average
typed-minimum = Coldest night of a usual winter
typed-minimum-hint = The average over the years, not the record.
typed-save = Use these averages
month-day-day = Day
month-day-month = Month
month-day-problem = { $month } has no such day.
file-lead = Daily lows of a weather station near you, best over 20 years and more. The file is read on this device.
file-drop = Drop a climate file here, or choose one.
file-choose = Choose a file
file-choose-other = Choose another file
file-kinds = Understood: GHCN-Daily of one station (.dly or .csv), and plain tables with the columns date, tmin, tmax.
file-unit = Temperatures of the file are in
file-use = Use this record
preview-title = What was understood
preview-no-name = Station without a name
preview-span = Days
preview-seasons = Whole seasons
preview-days = Nights with a low
preview-lowest = Lowest
preview-none-title = No season is complete enough
preview-none = A season needs nearly all of its nights. Choose a longer record, or one with fewer gaps.
preview-few-title = { $seasons ->
    [one] Only one season
   *[other] Only { $seasons } seasons
}
preview-few = So few years leave the dates uncertain. The plan says by how much.
preview-clean = Nothing was left out.
preview-problems = { $count ->
    [one] One remark on the file
   *[other] { $count } remarks on the file
}
preview-line = Line { $line }:
preview-more = { $count ->
    [one] And one more.
   *[other] And { $count } more.
}
freeze-title = Freeze dates
freeze-lead = Each date with the span in which it truly lies in nine cases of ten, given so many years. In autumn the 1-in-10 date is the early one, in spring the late one.
freeze-lead-typed = From the averages you typed, with a usual spread between years. A station’s record would tell the real one.
freeze-autumn = First night in autumn at or below
freeze-spring = Last night in spring at or below
freeze-threshold = Low
freeze-autumn-p10 = Earlier in 1 year of 10
freeze-p50 = Median
freeze-autumn-p90 = Later in 1 year of 10
freeze-spring-p10 = Later in 1 year of 10
freeze-spring-p90 = Earlier in 1 year of 10
freeze-rare = too rare
freeze-sample = Seasons with one
freeze-sample-size = { $with } of { $of }
nights-title = Nights per season at or below
nights-mean = Mean
nights-range = 8 years of 10
summer-title = Days from the last spring to the first autumn night
summer-range = { $from } – { $to }
minimum-title = Coldest night of a season
minimum-mean = Mean
minimum-return = Reached once in { $years } years
minimum-interval = ({ $from } to { $to })
minimum-lowest = Lowest in the record

## Shelters and zones

shelters-title = What shelter do you have?
shelters-lead = Inside measures are enough to begin.
shelter-new = A shelter
shelter-add = Add a shelter
shelter-edit = Change the shelter
shelter-kind = Kind
shelter-name = Name
shelter-name-greenhouse = greenhouse
shelter-name-cold-frame = cold frame
shelter-name-garage = garage
shelter-name-cellar = cellar
shelter-name-porch = porch
shelter-name-room = cool room
shelter-name-wrapped-bed = wrapped bed
shelter-inside = Inside measures
shelter-length = Length
shelter-width = Width
shelter-height = Greatest height
shelter-cover = It gets a winter cover
shelter-cover-hint = Bubble film, tarp or fleece, on in autumn, off in spring.
shelter-heater = A heater stands ready
shelter-heater-hint = For nights on which that is not enough.
shelter-save = Add this shelter
shelter-size = { $length } × { $width }, { $height } high
shelter-covered = winter cover
shelter-heated = heater ready
zones-title = Zones
zone-add = Add a zone
zone-new = A zone
zone-edit = Change the zone
zone-name = Name
zone-name-hint = A corner, bench or bed with a temperature of its own: “north corner”.
zone-area = Area for plants
zone-light-label = Daylight in winter
zone-light = daylight: { $light }
zone-offset = Warmer or colder than the shelter
zone-offset-hint = On a cold night; a minus for colder. The floor of a north corner is often 1 to 2 °C (2 to 4 °F) colder.
zone-kept-label = Kept above with heat
zone-kept-hint = What the thermostat is set to hold. Leave empty without heat.
zone-warmer = { $by } warmer
zone-colder = { $by } colder
zone-kept = kept above { $temp }
zone-plants = { $plants ->
    [0] no plants yet
    [one] one plant
   *[other] { $plants } plants
}

## Plants

plants-title = Which plants must come through?
plants-lead = Pots freeze sooner than the ground, so their size counts.
plants-empty-title = No plants yet
plants-empty = Type a name, press Enter, say how many, press Enter.
plants-ready-title = Your plan stands
plants-ready = Add more plants whenever you like; the plan follows.
plants-ready-go = See my season
plants-homeless-title = { $count ->
    [one] One planting has no winter place
   *[other] { $count } plantings have no winter place
}
plants-homeless = Choose a zone for each, so that it gets its chores and its limit.
add-title = Add plants
add-search = Search the catalogue
add-search-hint = Common or botanical name of one of { $count } plants.
add-hits = { $count ->
    [one] One plant
   *[other] { $count } plants
}
add-more = { $count ->
    [one] And one more: type a few letters.
   *[other] And { $count } more: type a few letters.
}
add-none = Not in the catalogue.
add-browse = Browse the catalogue, or enter a plant of your own
add-confirm = Add
add-other = Another plant
planting-edit = Change the planting
planting-label = Label
planting-count = How many
planting-container = Roots
planting-pot = Pot size
planting-zone = Winter place
planting-no-zone = Not decided yet
planting-limit = Your own limit
planting-limit-hint = The catalogue says { $dormant } at rest, { $leaf } in leaf and { $root } for roots in a pot.
planting-own-limit = own limit { $temp }
planting-footprint = Floor it takes up
in-pot = in a pot
in-ground = in the ground
in-store = lifted
catalogue-title = Plant catalogue
catalogue-lead = What each plant stands, with the source of each figure. Your own entries live beside the built-in ones.
catalogue-back = Back to your plants
catalogue-open = Catalogue
plant-limits = Damage at or below
plant-dormant = At rest
plant-leaf = In leaf
plant-root = Roots in a pot
plant-loss = likely loss below { $temp }
plant-winter = In winter
plant-store = Keep at
plant-light = Daylight
plant-water = Water
plant-move-in = Bring in at a night low of
plant-move-out = Out again above a night low of
plant-chill = Chill it needs
plant-chill-hours = { $from } to { $to } hours
plant-base = Growth begins at
own-title = A plant of your own
own-add = Add your own
own-mark = your own
own-copy = Make it my own
own-name = Name
own-botanical = Botanical name
own-habit = Growth
own-class = Start from a hardiness class
own-class-hint = Fills in the figures below (classes: RHS 2013; the rest is common practice). Change what you know better.
class-range = { $class }: stands { $low } to { $high }
own-store-low = Keep at, coolest
own-store-high = Keep at, warmest
own-pass = Moving in
own-toxicity = Poisonous?
own-toxicity-hint = Say in plain words what is dangerous; chores will then warn.
own-note = Note
own-save = Save to my catalogue

## Season

season-title = Season { $season }
season-basis = Dated from { $basis }.
season-before = The season before
season-after = The season after
season-tabs = Views of the season
season-picture = Picture
season-list = List
problems-title = { $count ->
    [one] One thing to look at
   *[other] { $count } things to look at
}
problems-mend = Mend it in the set-up
picture-title = The winter at a glance
picture-by = Rows of the picture
picture-by-phase = By work
picture-by-place = By place
picture-zoom = Width of the picture
picture-wider = Draw wider
picture-narrower = Draw narrower
picture-to-today = To today
picture-label = Season { $season } as a picture; it scrolls sideways
picture-marks = Chores; arrow keys go from one to the next
picture-span = The picture runs from { $from } to { $to }.
picture-hint = Press a mark for its chore. Arrow keys go from mark to mark.
picture-as-list = Read the same as a list
picture-threshold = at or below { $temp }
picture-more = { " " }+ { $count }
day-range = { $from } to { $to }
mark-many = { $lane }: { $count } chores around { $day }
killing-line = First killing date: { $day }
band-first = First autumn night at or below { $temp }: { $from } to { $to } in eight years of ten, median { $median }
band-last = Last spring night at or below { $temp }: { $from } to { $to } in eight years of ten, median { $median }
band-first-word = first { $day }
band-last-word = last { $day }
stage-span = { $names }: { $stage }, { $from } to { $to }
legend-title = What the shapes mean
legend-window = days on which it can be done
legend-killing = killing date
legend-band = freeze date in 8 years of 10, with median
list-phase = Part of the work
list-place = Place
list-all-phases = All parts
list-all-places = All places
list-open-only = Only what is open
list-count = { $count ->
    [one] One chore
   *[other] { $count } chores
}{ $late ->
    [0] .
    [one] , one of them late.
   *[other] , { $late } of them late.
}
list-empty = Nothing fits
list-empty-lead = No chore of this season fits these choices.
calendar-open = Calendar file
calendar-title = Chores for your calendar
calendar-lead = A file that any calendar can read. Take it in again after the plan changes: entries are renewed, not doubled.
calendar-hour = Time of day
calendar-whole-day = Whole day
calendar-alarm = Reminder
calendar-save = Save the file
alarm-none = None
alarm-at-time = At that time
alarm-hour-before = One hour before
alarm-day-before = One day before
alarm-evening-before = The evening before, { $time }

## Close-up checklists

closeup-title = Close-up checklist
closeup-head = Close-up { $season }
closeup-lead = { $all ->
    [one] { $closed ->
        [0] One zone, still open.
       *[other] One zone, closed up.
    }
   *[other] { $closed ->
        [0] { $all } zones, none closed up yet.
       *[other] { $closed } of { $all } zones closed up.
    }
}
closeup-zones = Zones shown
closeup-all = All zones
closeup-zone = { $name } ({ $state })
closeup-open = { $count } open
closeup-print = Print all
closeup-print-one = Print
closeup-progress = { $done } of { $all } steps settled, { $required ->
    [0] none that is required is open
    [one] one that is required is open
   *[other] { $required } that are required are open
}
closeup-paper = Close-up checklist, season { $season }, printed on { $day }
closeup-stamp = Closed up
closeup-cautions = Take care
closeup-no-steps = Nothing has to be closed up here.
closeup-empty-title = No zones yet
closeup-empty = Each zone of a shelter gets its own list: what to do in which order, why, and how to prove it.
step-label = Step { $number }: { $title }
step-required = needed for closing up
step-advised = advised

## The night on Today

night-title = Tonight
night-title-later = { $days ->
    [one] Tomorrow night
   *[other] The night in { $days } days
}
night-line = { $low } outdoors, { $from }
night-from-typed = as you typed
night-from-forecast = by the forecast
night-from-climate = the usual low of the date
night-reckoning = Reckoning the night …
night-low-wanted = Type tonight’s low to learn what the night asks for.
night-more = { $count ->
    [one] And one thing more.
   *[other] And { $count } things more.
}
night-open = Look closer
night-close = Fold away
night-morning-ask = What came last night?
night-morning-open = Enter the lows that came
night-past-open = Past nights
night-form-low = Low outdoors
night-form-sky = Sky
night-form-sky-open = not given
night-form-wind = Wind
night-form-covers = Winter covers
night-form-covers-ticked = as ticked in the plan
night-form-covers-on = all on
night-form-covers-off = all off
night-form-night = Night
night-form-tonight = Tonight
night-form-go = Reckon this night
night-form-forecast = Take the forecast’s
night-form-clear = Clear my figures
night-form-hint = What you leave empty is taken as usual for the date: its low, a clear sky, nearly still air.
night-form-hint-forecast = What you leave empty is taken from the forecast.
night-form-forecast-link = Let a forecast fill it in
night-todo = What to do first
night-shelters = Shelter by shelter
night-assumed = What was assumed, and what it rests on
night-failed = This shelter could not be reckoned
night-short-risk = { $plant }: chance of { $chance } to get below { $limit }
night-short-empty = No plant with a limit stands here.
night-chance = Chance of passing a limit, heater off
night-chance-of = { $plant } in “{ $zone }”, limit { $limit }
night-heat-below-label = Needs heat below
night-outdoors = outdoors
night-no-need = no low in reach
night-laggard = First in need
night-cover = Winter cover
night-cover-on = taken as on
night-cover-off = taken as off
night-thermostat = Thermostat at
night-full-hours = Hours of full heat
night-energy = Heat
night-energy-most = 1 night in 10 over { $most }
night-fuel = Fuel
night-cost = Cost
night-no-price = Enter a price
night-risk-heated = Chance left with heat
night-alternatives = What else would help
night-saves = Saves { $energy } this night.
night-course = The night, hour by hour
night-explain = Why: every figure and what it came from
night-heater = Heater
night-heater-off = off
night-heater-on = on
night-zone-focus = Zone drawn bold
night-outside = Outdoors
night-outside-mark = out
night-limit-label = limit { $limit } ({ $zones })
night-heat-strip = heater hours
night-heat-strip-mark = heat
night-now = now
night-band = { $zone } in 8 nights of 10, heater off
night-without = { $zone } with the heater off
night-range = { $from } to { $to }
night-read-label = Time to read the chart at
night-read-spoken = { $time }: { $values }
night-read-coldest = At { $time }, the coldest hour:
night-read-at = At { $time }:
night-table = The night as a table
night-table-label = { $name }: the night hour by hour
night-table-time = Time
night-table-heat = Heat
explain-inputs = Reckoned with a low of { $low } outdoors, { $high } the day after, { $cloud } of the sky under clouds and a wind of { $wind }.
explain-doubt = The low may miss by { $forecast } and the model by { $model } (standard deviations).
explain-cover-on = The winter cover is taken to be on.
explain-cover-off = No winter cover is taken to be on.
explain-table = { $name }: zones and their figures
explain-zone = Zone
explain-low = Coldest, heater off
explain-range = 8 nights of 10
explain-hold = Above outdoors
explain-limit = Limit
explain-own = your own
explain-no-limit = none
explain-chance = Chance of passing it
explain-below = Needs heat below
explain-heated = Coldest, heater on
explain-how = Coldest and range are the middle and the 10 to 90 % span of many computed nights that differ by the doubt above. The chance counts those that pass the limit. “Needs heat below” is the low outdoors at which the coldest hour just meets the limit.

## Cold nights ahead

hold-title = If more such nights follow
hold-lead = “{ $zone }”, the coldest zone, night after night without heat. A bar’s length is the hold: how far the zone stays above outdoors.
hold-limit = limit { $limit }
hold-legend-bar = hold, its figure above; ! marks a night past the limit
hold-legend-outside = low outdoors
hold-legend-ice = ice in the coldest pots
hold-table = Nights ahead in figures: { $name }
hold-night = Night of
hold-inside = Coldest zone
hold-hold = Hold
hold-ice = Ice in pots
hold-below = past the limit

## The morning after, and past nights

morning-title = What came of the night?
morning-lead = Read the lowest temperature on each thermometer. Leave empty what nobody read. Later calls learn from it.
morning-night = Night
morning-last-night = Last night, { $day }
morning-outside = Low outdoors
morning-zones = Lows by zone
morning-predicted = predicted: { $low }
morning-heater = A heater ran in
morning-nothing = Enter at least one low.
morning-save = Keep these lows
morning-saved = The night is on record.
past-title = Past nights
past-empty-title = No nights on record yet
past-empty = Each call is kept. Enter what came the morning after, and both stand here side by side.
past-doubt = What they say of the doubt
past-place = Place
past-predicted = Predicted
past-came = Came
past-error = Difference
past-unread = not read
past-met = as predicted
past-milder = { $by } milder
past-colder = { $by } colder
past-heated = A heater ran in { $names }.
past-note = Predictions are those without heat. For a zone, the difference is from what the model says for the low that truly came outdoors.

## Forecast and prices in the set-up

setup-back = Back to the set-up
forecast-title = Forecast
forecast-card = Lets a public weather service or a saved file fill in the low, sky and wind of the nights ahead. Off until you turn it on.
forecast-open = Choose a source
forecast-lead = Fills in the low, sky and wind of the nights ahead. You can always type your own.
forecast-now = The forecast in use
forecast-choose = Where forecasts come from
forecast-source-off = none: I type the low
forecast-source-met-norway = MET Norway, Locationforecast
forecast-source-us-nws = US National Weather Service
forecast-source-file = files I save myself
forecast-about-off = Nothing is fetched and nothing leaves this device.
forecast-about-met = For the whole world. Fetched over the internet, no more often than the service asks.
forecast-about-nws = For places in the United States only. Fetched over the internet, no more often than the service asks.
forecast-about-file = Nothing is fetched: you hand over a forecast that you saved, and it is read on this device.
forecast-sent-title = What is sent to { $host } with each request
forecast-sent-place = The place, to about ten metres: { $coordinates }. It tells the service where your plants stand.
forecast-sent-place-height = The place, to about ten metres, with its height: { $coordinates }, { $height }. It tells the service where your plants stand.
forecast-sent-program = The name and version of this program, as the service asks, with the address below if you give one.
forecast-sent-address = As with every page on the internet, the service sees your network address.
forecast-sent-nothing = Nothing about your plants and shelters.
forecast-contact = Address for the service to reach you
forecast-contact-hint = An e-mail or web address. Services ask for one in case a program misbehaves; it is sent with each request.
forecast-turn-on = Turn it on
forecast-turn-off = Turn it off
forecast-use-files = Use files
forecast-drop = Drop a forecast file here, or choose one.
forecast-file-kinds = Understood: the compact JSON of MET Norway’s Locationforecast, and the hourly forecast JSON of the US National Weather Service.
forecast-fetching = fetching
forecast-fresh = up to date
forecast-kept = older one kept
forecast-none = no forecast
forecast-problem = There is no forecast
forecast-problem-kept = No newer forecast; the last good one is kept
forecast-issued = Made { $at } ({ $age }).
forecast-fetched = Fetched { $at }.
forecast-read = Read { $at }.
forecast-next = Not fetched again before { $at }.
forecast-refetch = Look for a newer one
forecast-nights = Nights ahead by the forecast
forecast-night = Night of
forecast-low = Low
forecast-at = At
forecast-cloud = Clouds
forecast-wind = Wind
forecast-high = High after
forecast-credit-met = Data from MET Norway (Norwegian Meteorological Institute),
forecast-licence-met = CC BY 4.0
forecast-credit-nws = Data from the US National Weather Service; free of copyright.
toast-forecast-off = Forecasts are off.
toast-forecast-read = { $nights ->
    [one] One night was read.
   *[other] { $nights } nights were read.
}
prices-title = Energy prices
prices-lead = What heat costs a night and a winter follows from what you pay.
prices-hint = With taxes, without the standing charge. A fuel you leave empty has no price, and its costs stay open.
price-fuel-electricity = Electricity
price-fuel-natural-gas = Natural gas
price-fuel-propane = Propane
price-fuel-kerosene = Kerosene
fuel-kwh = { $number }{"\u00A0"}kWh of { $fuel }
fuel-litre = { $number }{"\u00A0"}L of { $fuel }
fuel-gallon = { $number }{"\u00A0"}US gal of { $fuel }
fuel-cubic-metre = { $number }{"\u00A0"}m³ of { $fuel }
fuel-hundred-cubic-feet = { $number } × 100{"\u00A0"}ft³ of { $fuel }
price-per-kwh = { $currency } a kWh
price-per-litre = { $currency } a litre
price-per-gallon = { $currency } a US gallon
price-per-cubic-metre = { $currency } a m³
price-per-hundred-cubic-feet = { $currency } a 100 ft³
price-gas-hint-m3 = By volume. A bill in kWh also tells the kWh in a m³, often 10 to 12: multiply.
price-gas-hint-ft3 = By volume. A therm is nearly as much gas as 100 ft³: its price is close enough.
## Shelter: one at a time

shelter-choice = Shelter shown
shelter-tabs = Views of the shelter
shelter-tab-plan = Plan
shelter-tab-build = Build
shelter-tab-loss = Heat loss
shelter-tab-compare = Compare
shelter-gone-title = This shelter is not here
shelter-gone = It may have been removed, or it stands at another site.
shelter-gone-go = See the shelters of this site
shelter-none-title = No shelter yet
shelter-none = With a shelter you see its plan to scale, where its heat goes, and what a winter costs under each cover.
shelter-saved = { $name } was saved.
shelter-undone = { $name } is as it was before.
wind-north = north
wind-north-east = north-east
wind-east = east
wind-south-east = south-east
wind-south = south
wind-south-west = south-west
wind-west = west
wind-north-west = north-west
power-both = { $power } ({ $btu })
coefficient-w = { $number }{"\u00A0"}W/K
coefficient-btu = { $number }{"\u00A0"}BTU/(h·°F)
figure-volt = { $number }{"\u00A0"}V

## Shelter: the plan to scale

plan-title = Plan to scale
plan-label = Plan of a floor of { $length } by { $width }; zones, heaters and sensors can be moved
plan-hint = Drag a zone, heater or sensor; on a touch screen tap it first. With the keyboard: arrow keys move it, Shift and arrow keys change a zone’s size.
plan-zone = Zone { $name }: { $place }
plan-heater = Heater { $tag }, { $name }: { $place }
plan-sensor = Sensor { $tag }, { $name }: { $place }
plan-zone-place = { $length } by { $width }, { $x } from the near end, { $y } from the left side
plan-spot-place = { $x } from the near end, { $y } from the left side
plan-north = N
plan-door = door
plan-side-house = { $wind }, heated house
plan-side-unheated = { $wind }, unheated room
plan-side-earth = { $wind }, earth
plan-legend = What the shapes mean
plan-legend-laid = zone laid out by its area, not drawn yet
plan-legend-heater = heater, with the way it blows
plan-legend-clear = nothing that burns inside this ring
plan-legend-blast = dry blast
plan-legend-reach = warmth is felt
plan-legend-shield = shield
plan-legend-sensor = sensor
plan-legend-coldest = likely coldest spot
plan-placed = { $name } was moved.
plan-zone-drawn = { $name } was drawn anew.
plan-zone-is-drawn = You drew it.
plan-zone-is-laid = Laid out by its area, since it was not drawn yet. Move it to where it lies.
plan-zone-lay = Lay out by area
plan-along = From the near end
plan-across = From the left side
plan-zones = Zones
plan-no-zones = No zones yet: add one in the set-up.
plan-heaters = Heaters
plan-no-heaters = No heater is recorded.
plan-sensors = Sensors
plan-no-sensors = No sensor hangs here. The likely coldest spot is where one belongs.
plan-findings = Placement
plan-no-findings = Nothing to find fault with.
plan-finding-fire = Fire:
plan-cautions = Take care
zone-water = Standing water
zone-water-hint = Barrels and cans; what they give off as they cool and freeze counts on a cold night.
heater-add = Add a heater
heater-new = A heater
heater-edit = Change the heater
heater-kind = Kind
heater-name = Name
heater-rating = Heat output
heater-rating-hint = As on its plate.
heater-set-label = Thermostat
heater-set-hint = Turns on at. Left empty, the night call chooses.
heater-band = Between on and off
heater-band-hint = How far it warms past that.
heater-zone = Stands in
heater-first-zone = The first zone
heater-sensor-zone = Its thermostat hangs in
heater-own-zone = The same zone
heater-fixing = Fixing
heater-is-fixed = Fixed, wired or piped in
heater-is-portable = Portable
heater-shield = It has a shield that cannot burn
heater-shield-hint = Sheet metal or cement board behind and beside it, with air behind the shield.
heater-direction = Blows or radiates
heater-all-round = all round
heater-way = { $way } ({ $wind })
heater-way-degrees = { $deg }° clockwise from the length
way-right = to the right of the plan
way-right-down = to the lower right
way-down = down the plan
way-left-down = to the lower left
way-left = to the left of the plan
way-left-up = to the upper left
way-up = up the plan
way-right-up = to the upper right
heater-flame-title = A flame without a flue
heater-flame = It sends carbon monoxide, water and plant-harming fumes into the shelter. A heater with a flue, or an electric one, is the safe choice.
heater-in-zone = in { $zone }
heater-set = on at { $temp }
heater-set-open = thermostat as the night call says
heater-portable = portable
heater-fixed = fixed
heater-shielded = shielded
heater-bare = no shield
heater-circuit-figures = { $current } of { $allowed } allowed for hours on end; { $drop } lost in the cord
heater-circuit-unknown = Say what it hangs on, and its circuit is checked.
heater-refused = Refused: do not use it like this
heater-mind = Mind this
circuit-title = Circuit
circuit-known = I know what it hangs on
circuit-known-hint = Then breaker, other loads and cord are checked.
circuit-volts = Voltage
circuit-breaker = Breaker or fuse
circuit-other = Everything else on it
circuit-other-hint = Lamps, pumps, freezers on the same breaker.
circuit-rcd = Guarded by a residual-current device
circuit-rcd-hint = RCD, GFCI.
circuit-cord = On an extension cord
circuit-cord-hint = A heater should hang on none.
cord-gauge = Conductor
cord-length = Length of the cord
cord-outdoors = Made for outdoors
cord-wound = Lies wound up
gauge-awg = { $number } AWG
gauge-mm2 = { $number } mm²
sensor-add = Add a sensor
sensor-new = A sensor
sensor-edit = Change the sensor
sensor-name = Name
sensor-name-hint = As it stands on the thermometer, such as “bench”.
sensor-zone = Hangs in
sensor-height = Height above the floor
sensor-height-hint = At the height of the plants it tells most.
sensor-to-coldest = Hang it at the likely coldest spot
sensor-in-zone = in { $zone }
sensor-height-above = { $height } above the floor
sensor-not-placed = not on the plan yet
sensor-place = Put it on the plan

## Shelter: what it is built of

build-usual-title = Taken as usual
build-usual = Nothing was entered, so all of this is the usual for a { $kind } of this size. Change what you know better.
build-usual-mark = usual
build-to-usual = Back to the usual build
build-is-usual-again = { $name } has the usual build again.
build-shape = Shape
build-form = Form
build-orientation = Direction
build-sheets = Sheets and walls
build-roof = Roof, arch or ceiling
build-sides = Long sides
build-ends = Ends
build-house-wall = Wall to the house
build-tightness = Gaps and wind
build-wind = Wind comes
build-wind-hint = What stands around it within a few heights.
build-edge = The edge of the floor is insulated
build-edge-hint = Board in the ground along the outside walls.
build-openings = Doors, windows, vents
build-covers = Winter covers
build-size-hint = Length, width and height:
build-size-go = change them in the set-up
wind-shelter-open = freely: open country or shore
wind-shelter-rural = over fields, few obstacles
wind-shelter-suburban = between houses and gardens
wind-shelter-sheltered = hardly: hedges, walls, houses close by
wind-shelter-enclosed = not at all: a closed yard
form-gable = Two slopes, ridge along the length
form-lean-to = One slope, against a house
form-hoop = Hoops along the length
form-dome = Dome
form-frame = Box with a sloping light
form-room = Room in or under a building
form-wrap = Sheet or fleece over a bed
form-eave = Height of the eaves
form-low-side = Height of the low side
form-low-side-hint = The house stands on the left, seen along the length.
form-house = Temperature of the house
form-front = Height of the front
form-front-hint = The front is on the right, seen along the length.
form-dome-hint = Its width is the diameter; the length is not used.
beyond-outdoors = open air
beyond-heated = a heated room
beyond-unheated = an unheated room or loft
beyond-earth = earth
room-left = Beyond the left side ({ $wind })
room-right = Beyond the right side ({ $wind })
room-behind = Beyond the near end ({ $wind })
room-ahead = Beyond the far end ({ $wind })
room-above = Above the ceiling
room-temperature = Temperature there
compass-turn = Turn the shelter
compass-degrees = The length points to
compass-says = Far end { $ahead }, right side { $right }, near end { $behind }, left side { $left }.
sheet-u-value = U { $number } W/(m² K)
sheet-glazing = Lets light through
sheet-walls = Walls and boards
leak-label = Gaps
leak-taped = well taped
leak-usual = as usual for its kind
leak-gappy = gappy
leak-own = a figure of my own
leak-factor = Leakage against the usual
leak-factor-hint = 1 is usual, 0.5 half of it, 2 double.
opening-none = None entered: the sides count as whole.
opening-add = Add a door, window or vent
opening-nth = Opening { $number }
opening-remove = Remove opening { $number }
opening-kind = What
opening-within = Set into
opening-area = Area
opening-sheet = Made of
cover-none = None entered.
cover-add = Add a cover
cover-nth = Cover { $number }
cover-remove = Remove cover { $number }
cover-kind = Cover
cover-from = On from
cover-to = On until
cover-always = Without dates it counts as always on.
cover-all-parts = Over all parts that face outdoors

## Shelter: where the heat goes

heat-night = The night to reckon with
heat-low = Low outdoors
heat-low-hint = Left empty: the low that your climate undercuts once in ten years.
heat-inside = Kept inside
heat-inside-hint = Left empty: what your plants need.
heat-heater-size = The heater it takes
heat-whole = As it stands
heat-without-cover = Without a cover
heat-with-cover = Under its winter cover
heat-size-lead = output to choose, the loss with a margin
heat-no-heater = No heater needed
heat-loss-word = Loss
heat-surplus = More comes in than goes out
heat-coefficient = Per degree to outdoors
heat-circuit = { $name }: mind this
heat-circuit-refused = Refused: { $name } must not run like this
heat-where = Where it goes
heat-bare = bare
heat-covered = covered
heat-gains = gains { $power }
heat-path-air = Air that leaks in and out
heat-path-edge = Edge of the floor
heat-path-side = long side
heat-path-end = end
heat-path-facing = { $part } facing { $wind }
heat-as-table = Read as a table
heat-bars-unseen = The picture of bars says the same as the table.
heat-table = Heat loss by part
heat-table-path = Part
heat-table-size = Size
heat-table-bare = Loss bare
heat-table-bare-coefficient = Bare, per degree
heat-table-covered = Loss covered
heat-table-covered-coefficient = Covered, per degree
heat-rests = What this rests on

## Shelter: winters compared

compare-title = What would a winter cost?
compare-lead = Every winter of your climate is run for each set-up, hour by hour: nights heated, energy, cost, and the chance that a plant’s limit is passed.
compare-choice = Set-ups
compare-usual = The usual ones
compare-own = My own
compare-usual-hint = Bare, under each cover that is usual on its kind, and as it is recorded.
compare-bare = Bare
compare-copy = { $name }, changed
compare-copy-label = Another one like { $name }
compare-first = First: the others are compared with it
compare-nth = Set-up { $number }
compare-name = Name
compare-covers = Covers
compare-heater = Heater
compare-no-heater = No heater
compare-set = Thermostat
compare-set-hint = Left empty: what the plants need.
compare-add = Add a set-up
compare-details = How many winters
compare-winters = Winters
compare-winters-hint = The latest ones. Left empty: all, at most 60.
compare-draws = Draws per winter
compare-draws-hint = How your garden may differ from its station. Left empty: 20.
compare-start = Run the winters
compare-again = Run again
compare-running = Winters are being run
compare-starting = getting ready
compare-progress = { $done } of { $total }
compare-cancel = Stop
compare-ready = The winters are compared.
compare-failed = The winters could not be run
compare-cancelled = Stopped
compare-cancelled-lead = Nothing was kept of this run. Start again whenever you like.
compare-not-run = { $name } could not be run
compare-nothing-title = No set-up could be run
compare-nothing = The reasons stand below; change the set-ups and run again.
compare-result = Heat and risk per winter
compare-years = { $winters ->
    [one] One winter
   *[other] { $winters } winters
} from { $first } to { $last }, each with { $draws ->
    [one] one draw
   *[other] { $draws } draws
} of how your garden differs from the station.
compare-heat-cost = { $energy }, { $cost }
compare-risk-short = limit passed: { $share }
compare-key-heat = heat, mean
compare-key-range = eight winters in ten
compare-key-risk = chance of passing a limit
compare-minima = Coldest of the winter, zone by zone
compare-no-limit = no plants, no limit
compare-limit = limit { $temp }
compare-key-coldest = eight winters in ten, with the middle one
compare-key-passed = middle one at or below the limit
compare-key-limit = limit
compare-figures = All figures
compare-table = Set-ups side by side
compare-table-scroll = Table of the set-ups; it scrolls sideways
compare-set-up = Set-up
compare-thermostat = Thermostat
compare-unheated = no heat
compare-nights = Nights heated
compare-heat = Heat
compare-cost = Cost
compare-no-price = no price entered
compare-saves = Saves against the first
compare-base = the first
compare-range = { $low } to { $high }
compare-coldest = { $zone }, coldest
compare-zone-risk = { $zone }, chance to pass its limit
compare-risk = Chance that any limit is passed
compare-design = Heater for a design night
compare-words = In words
