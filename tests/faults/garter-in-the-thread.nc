(threadwright 0.1.0: finishing press, garter)
(job digest 30d6-0bea-ec0c-7e3f)
(program 5 of 6)
(done before: round, relief, thread, chamfer)
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
(X -306.0 to -302.0 mm)
(Z 19.0 to 55.0 mm)
(A 0.0 to 1450.0 degrees)
(about 1 minute)
(A ends at A1450.0: turn it on to the mark and set A to 0 before)
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
G0 X-242
G0 A0.0
M3 S9500
G4 P6.0
(garter: approach)
G0 Z26.0
G1 Z25.5 F1120.0
(garter: level 1 of 3, diameter 44.50 mm)
G1 Z22.25 A360.0 F11.1965
G1 A725.0 F11.8525
G1 X-246 A1085.0 F12.0122
G1 A1450.0 F11.8525
(garter: level 2 of 3, diameter 39.00 mm)
G1 Z19.5 A1090.0 F12.8058
G1 A725.0 F13.524
G1 X-242 A365.0 F13.7045
G1 A0.0 F13.524
(garter: level 3 of 3, diameter 38.00 mm)
G1 Z19.0 A360.0 F13.8898
G1 A725.0 F13.8799
G1 X-246 A1085.0 F14.0648
G1 A1450.0 F13.8799
G0 Z34.2246
G0 Z55.0
M5
G94
M2
