(threadwright 0.1.0: nipping press)
(job digest 12f4-43dc-e63b-d826)
(screw: right-hand, 2 starts, lead 20.00 mm, pitch 10.00 mm)
(crest 50.00 mm, root 37.98 mm, crest flat 2.00 mm)
(full thread from X0.0 to X-300.0, run-out to X-310.0 mm)
(blank: hornbeam, round, 50.00 mm, 445.00 mm long, of which 15.00 mm)
(beyond the nose)
(held: 35.00 mm of it in the chuck, tail centre 20.00 mm across)
(cutter: 60 degree V, 1 mm flat, 60 degrees, flat tip 1.00 mm, 25.00)
(mm across, sticking out 45.00 mm)
(spindle 9500 rev/min, feed 2400 mm/min along the helix at the crest)
(machine: the long bench)
(F: G93, one over the minutes that the line takes)
(X0: nose face, X counts down towards the headstock)
(Y0: cutter straight above the axis of rotation, set before the start)
(Z0: axis of rotation)
(A0: start 1 at the nose face, mark blank and chuck there)
(park before the start: cutter above the nose, Z at the top of its)
(travel, A0 at the mark)
(check by hand: jog A from 0 to +90, the top of the blank must move)
(to the front, or else the thread winds the wrong way)
(X -310.0 to 21.0 mm)
(Z 18.9887 to 55.0 mm)
(A -378.0 to 60840.0 degrees)
(about 12 minutes)
(A ends at A60840.0: turn it on to the mark and set A to 0 before)
(another run, or it first unwinds 170 turns)
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
G0 X21.0
G0 A-378.0
M3 S9500
G4 P6.0
(start 1 of 2, pass 1 of 5, depth 2.65 mm)
G0 Z30.0
G1 Z22.3465 F104.528
G1 X19.0 A-342.0 F151.565
G1 X-300.0 A5400.0 F0.950252
G1 X-310.0 Z25.5 A5580.0 F30.289
G0 Z30.0
(start 1 of 2, pass 2 of 5, depth 4.04 mm)
G0 X21.0
G0 A5742.0
G1 Z20.9646 F88.5408
G1 X19.0 A5778.0 F151.565
G1 X-300.0 A11520.0 F0.950252
G1 X-310.0 Z25.5 A11700.0 F30.2634
G0 Z30.0
(start 1 of 2, pass 3 of 5, depth 5.11 mm)
G0 X21.0
G0 A11862.0
G1 Z19.8944 F79.1638
G1 X19.0 A11898.0 F151.565
G1 X-300.0 A17640.0 F0.950252
G1 X-310.0 Z25.5 A17820.0 F30.2373
G0 Z30.0
(start 1 of 2, pass 4 of 5, depth 6.01 mm)
G0 X21.0
G0 A17982.0
G1 Z18.9887 F72.6527
G1 X19.0 A18018.0 F151.565
G1 X-300.0 A23760.0 F0.950252
G1 X-310.0 Z25.5 A23940.0 F30.211
G0 Z30.0
(start 1 of 2, pass 5 of 5, depth 6.01 mm, spring pass)
G0 X21.0
G0 A24102.0
G1 Z18.9887 F72.6527
G1 X19.0 A24138.0 F151.565
G1 X-300.0 A29880.0 F0.0950252
G1 X-310.0 Z25.5 A30060.0 F30.211
G0 Z30.0
(start 2 of 2, pass 1 of 5, depth 2.65 mm)
G0 X21.0
G0 A30402.0
G1 Z22.3465 F104.528
G1 X19.0 A30438.0 F151.565
G1 X-300.0 A36180.0 F0.950252
G1 X-310.0 Z25.5 A36360.0 F30.289
G0 Z30.0
(start 2 of 2, pass 2 of 5, depth 4.04 mm)
G0 X21.0
G0 A36522.0
G1 Z20.9646 F88.5408
G1 X19.0 A36558.0 F151.565
G1 X-300.0 A42300.0 F0.950252
G1 X-310.0 Z25.5 A42480.0 F30.2634
G0 Z30.0
(start 2 of 2, pass 3 of 5, depth 5.11 mm)
G0 X21.0
G0 A42642.0
G1 Z19.8944 F79.1638
G1 X19.0 A42678.0 F151.565
G1 X-300.0 A48420.0 F0.950252
G1 X-310.0 Z25.5 A48600.0 F30.2373
G0 Z30.0
(start 2 of 2, pass 4 of 5, depth 6.01 mm)
G0 X21.0
G0 A48762.0
G1 Z18.9887 F72.6527
G1 X19.0 A48798.0 F151.565
G1 X-300.0 A54540.0 F0.950252
G1 X-310.0 Z25.5 A54720.0 F30.211
G0 Z30.0
(start 2 of 2, pass 5 of 5, depth 6.01 mm, spring pass)
G0 X21.0
G0 A54882.0
G1 Z18.9887 F72.6527
G1 X19.0 A54918.0 F151.565
G1 X-300.0 A60660.0 F0.950252
G1 X-310.0 Z25.5 A60840.0 F30.211
G0 Z55.0
M5
G94
M2
