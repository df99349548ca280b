(threadwright 0.1.0: finishing press, relief)
(job digest 30d6-0bea-ec0c-7e3f)
(program 2 of 6)
(done before: round)
(blank: hornbeam, octagon, 54.00 mm, 440.00 mm long, of which 20.00)
(mm beyond the nose)
(held: 35.00 mm of it in the chuck, tail centre 20.00 mm across)
(cutter: straight, 8 mm, two edges, straight, 8.00 mm across,)
(sticking out 45.00 mm)
(spindle 9500 rev/min, feed 1680 mm/min round the blank under the)
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
(X -246.0 to -244.0 mm)
(Z 18.9887 to 55.0 mm)
(A 0.0 to 1270.0 degrees)
(about 1 minute)
(A ends at A1270.0: turn it on to the mark and set A to 0 before)
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
G0 X-244.0
G0 A0.0
M3 S9500
G4 P6.0
(relief: approach)
G0 Z26.0
G1 Z25.5 F1120.0
(relief: level 1 of 3, diameter 44.49 mm)
G1 Z22.2444 A360.0 F11.1979
G1 A725.0 F11.8555
G1 X-246.0 A905.0 F24.0304
G1 A1270.0 F11.8555
(relief: level 2 of 3, diameter 38.98 mm)
G1 Z19.4887 A910.0 F12.811
G1 A545.0 F13.5318
G1 X-244.0 A365.0 F27.4249
G1 A0.0 F13.5318
(relief: level 3 of 3, diameter 37.98 mm)
G1 Z18.9887 A360.0 F13.8979
G1 A725.0 F13.8881
G1 X-246.0 A905.0 F28.1462
G1 A1270.0 F13.8881
G0 Z34.2246
G0 Z55.0
M5
G94
M2
