"""Planning problems made up for tests and benchmarks, and reference solvers for them.

``generator.make_problem``   museum-like problems of any size, with a chosen shortage
``tiny.tiny_problem``        problems small enough to try every plan
``plans.random_plan``        a valid plan found by chance, for pins, baselines and mutations
``brute_force``              tries every plan of a tiny problem
``cpsat``                    an OR-Tools CP-SAT model of the ten rules
"""
