# Words of the command line and of the calendar file.

## Calendar file

calendar-name = { $site }: winter care { $season }
calendar-about = Chores of the season { $season }. Import the file again after a change: entries are brought up to date, not doubled.
calendar-done = Done: { $title }
calendar-skipped = Left out: { $title }
calendar-why-skipped = Left out on { $date }: { $reason }
calendar-window = Window: { $earliest } to { $latest }, best on { $best }.
calendar-killing = Not after { $latest }: plants are lost beyond that date.
calendar-weather = Weather: { $weather }.
calendar-time = Work: about { $time }.
calendar-proof = Proof: { $proof }
calendar-caution = Caution – { $title }. { $text }
