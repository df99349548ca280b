(threadwright 0.1.0: finishing press, garter)
(job digest 511b-7ca3-9ace-c1c7)
(program 5 of 6)
(done before: round, relief, thread, chamfer)
(blank: hornbeam, octagon, 54.00 mm, 440.00 mm long, of which 20.00)
(mm beyond the nose)
(held: 35.00 mm of it in the chuck, tail centre 20.00 mm across)
(cutter: straight, 8 mm, two edges, straight, 8.00 mm across,)
(sticking out 45.00 mm)
(spindle 16000 rev/min, feed 840 mm/min round the blank under the)
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
(about 2 minutes)
(A ends at A1450.0: turn it on to the mark and set A to 0 before)
(another run, or it first unwinds 4 turns)
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
M3 S16000
G4 P6.0
(garter: approach)
G0 Z26.0
G1 Z25.5 F560.0
(garter: level 1 of 3, diameter 44.50 mm)
G1 Z22.25 A360.0 F5.59827
G1 A725.0 F5.92624
G1 X-246 A1085.0 F6.00609
G1 A1450.0 F5.92624
(garter: level 2 of 3, diameter 39.00 mm)
G1 Z19.5 A1090.0 F6.40291
G1 A725.0 F6.76199
G1 X-242 A365.0 F6.85225
G1 A0.0 F6.76199
(garter: level 3 of 3, diameter 38.00 mm)
G1 Z19.0 A360.0 F6.94488
G1 A725.0 F6.93994
G1 X-246 A1085.0 F7.03238
G1 A1450.0 F6.93994
G0 Z34.2246
G0 Z55.0
M5
G94
M2
