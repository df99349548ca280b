(threadwright 0.1.0: finishing press, chamfer)
(job digest 30d6-0bea-ec0c-7e3f)
(program 4 of 6)
(done before: round, relief, thread)
(blank: hornbeam, octagon, 54.00 mm, 440.00 mm long, of which 20.00)
(mm beyond the nose)
(held: 35.00 mm of it in the chuck, tail centre 20.00 mm across)
(cutter: 60 degree V, 1 mm flat, 60 degrees, flat tip 1.00 mm, 25.00)
(mm across, sticking out 45.00 mm)
(spindle 9500 rev/min, feed 3600 mm/min round the blank under the)
(cutter)
(machine: the long bench)
(F: G93, one over the minutes that the line takes)
(X0: nose face, X counts down towards the headstock)
(Y0: cutter straight above the axis of rotation, set before the start)
(Z0: axis of rotation)
(A0: start 1 at the nose face, a flat of the blank on top, mark blank)
(and chuck there)
(park before the start: cutter above the nose, Z at the top of its)
(travel, A0 at the mark)
(check by hand: jog A from 0 to +90, the top of the blank must move)
(to the front, or else the thread winds the wrong way)
(X 1.0 to 1.0 mm)
(Z 18.9378 to 55.0 mm)
(A 0.0 to 1445.0 degrees)
(about 1 minute)
(A ends at A1445.0: turn it on to the mark and set A to 0 before)
(another run, or it first unwinds 4 turns)
(dust of hornbeam: no special hazard found in what was read, which)
(does not mean that there is none)
(all wood dust can cause cancer: extract it, wear a mask made for)
(fine dust)
(care: read safety.md first)
(the first run in the air, spindle off, one hand at the stop)
(eyes covered, sleeves and hair tied, nobody near the turning blank)
G21
G17
G40
G49
G54
G80
G90
G93
G0 Z55.0
G0 X1.0
G0 A0.0
M3 S9500
G4 P6.0
(chamfer: ring at -1.00 mm, 6.06 mm deep)
G0 Z26.0
G1 Z25.5 F2400.0
G1 Z22.2189 A360.0 F19.0
G1 Z19.4378 A720.0 F19.0
G1 Z18.9378 A1080.0 F19.0
G1 A1445.0 F18.7397
G0 Z34.2246
G0 Z55.0
M5
G94
M2
