(threadwright 0.1.0: finishing press, thread)
(job digest 30d6-0bea-ec0c-7e3f)
(screw: right-hand, 2 starts, lead 20.00 mm, pitch 10.00 mm)
(crest 50.00 mm, root 37.98 mm, crest flat 2.00 mm)
(full thread from X0.0 to X-240.0, run-out to X-250.0 mm)
(program 3 of 6)
(done before: round, relief)
(blank: hornbeam, octagon, 54.00 mm, 440.00 mm long, of which 20.00)
(mm beyond the nose)
(held: 35.00 mm of it in the chuck, tail centre 20.00 mm across)
(cutter: 60 degree V, 1 mm flat, 60 degrees, flat tip 1.00 mm, 25.00)
(mm across, sticking out 45.00 mm)
(spindle 9500 rev/min, feed 2400 mm/min along the helix at the crest)
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
(X -250.0 to 26.0 mm)
(Z 18.9887 to 55.0 mm)
(A -468.0 to 50040.0 degrees)
(about 10 minutes)
(A ends at A50040.0: turn it on to the mark and set A to 0 before)
(another run, or it first unwinds 140 turns)
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
G0 X26.0
G0 A-468.0
M3 S9500
G4 P6.0
(start 1 of 2, pass 1 of 5, depth 2.65 mm)
G0 Z34.2246
G1 Z22.3465 F67.351
G1 X24.0 A-432.0 F151.565
G1 X-240.0 A4320.0 F1.14822
G1 X-250.0 Z25.5 A4500.0 F30.289
G0 Z34.2246
(start 1 of 2, pass 2 of 5, depth 4.04 mm)
G0 X26.0
G0 A4572.0
G1 Z20.9646 F60.332
G1 X24.0 A4608.0 F151.565
G1 X-240.0 A9360.0 F1.14822
G1 X-250.0 Z25.5 A9540.0 F30.2634
G0 Z34.2246
(start 1 of 2, pass 3 of 5, depth 5.11 mm)
G0 X26.0
G0 A9612.0
G1 Z19.8944 F55.8261
G1 X24.0 A9648.0 F151.565
G1 X-240.0 A14400.0 F1.14822
G1 X-250.0 Z25.5 A14580.0 F30.2373
G0 Z34.2246
(start 1 of 2, pass 4 of 5, depth 6.01 mm)
G0 X26.0
G0 A14652.0
G1 Z18.9887 F52.5076
G1 X24.0 A14688.0 F151.565
G1 X-240.0 A19440.0 F1.14822
G1 X-250.0 Z25.5 A19620.0 F30.211
G0 Z34.2246
(start 1 of 2, pass 5 of 5, depth 6.01 mm, spring pass)
G0 X26.0
G0 A19692.0
G1 Z18.9887 F52.5076
G1 X24.0 A19728.0 F151.565
G1 X-240.0 A24480.0 F1.14822
G1 X-250.0 Z25.5 A24660.0 F30.211
G0 Z34.2246
(start 2 of 2, pass 1 of 5, depth 2.65 mm)
G0 X26.0
G0 A24912.0
G1 Z22.3465 F67.351
G1 X24.0 A24948.0 F151.565
G1 X-240.0 A29700.0 F1.14822
G1 X-250.0 Z25.5 A29880.0 F30.289
G0 Z34.2246
(start 2 of 2, pass 2 of 5, depth 4.04 mm)
G0 X26.0
G0 A29952.0
G1 Z20.9646 F60.332
G1 X24.0 A29988.0 F151.565
G1 X-240.0 A34740.0 F1.14822
G1 X-250.0 Z25.5 A34920.0 F30.2634
G0 Z34.2246
(start 2 of 2, pass 3 of 5, depth 5.11 mm)
G0 X26.0
G0 A34992.0
G1 Z19.8944 F55.8261
G1 X24.0 A35028.0 F151.565
G1 X-240.0 A39780.0 F1.14822
G1 X-250.0 Z25.5 A39960.0 F30.2373
G0 Z34.2246
(start 2 of 2, pass 4 of 5, depth 6.01 mm)
G0 X26.0
G0 A40032.0
G1 Z18.9887 F52.5076
G1 X24.0 A40068.0 F151.565
G1 X-240.0 A44820.0 F1.14822
G1 X-250.0 Z25.5 A45000.0 F30.211
G0 Z34.2246
(start 2 of 2, pass 5 of 5, depth 6.01 mm, spring pass)
G0 X26.0
G0 A45072.0
G1 Z18.9887 F52.5076
G1 X24.0 A45108.0 F151.565
G1 X-240.0 A49860.0 F1.14822
G1 X-250.0 Z25.5 A50040.0 F30.211
G0 Z55.0
M5
G94
M2
