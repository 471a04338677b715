# An independent solution of an oscillator with an elastic-plastic spring beside an
# elastic one and a damper, under a ground acceleration that is straight between
# samples, by the general solver of scipy (LSODA) at tight tolerances. Yielding and
# turning back are events of the solver.
#
# stdin:  JSON list of cases: mass, stiffness, strength, ratio, damping, alpha, step, accel
# stdout: JSON list of displacements at the samples, a list a case
import json
import sys

from scipy.integrate import solve_ivp

TIGHT = {"method": "LSODA", "rtol": 1e-9, "atol": 1e-12}


def solve(p):
    m, k, r, c, alpha, dt, a = (p[n] for n in ("mass", "stiffness", "ratio", "damping", "alpha", "step", "accel"))
    limit = p["strength"] * (1 - r)  # of the elastic-plastic spring
    kp = (1 - r) * k  # its stiffness
    u, v, z = 0.0, 0.0, 0.0  # displacement, velocity, plastic displacement
    out = [0.0]

    def damper(v):  # rounded off at 1 mm/s
        return c * v / (v * v + 1e-6) ** ((1 - alpha) / 2)

    for i in range(1, len(a)):
        t = 0.0
        while t < dt:
            spring = kp * (u - z)
            sign = 0  # of yielding
            if abs(spring) >= limit * (1 - 1e-10) and spring * v > 0:
                sign = 1 if v > 0 else -1

            def motion(t, y):
                f = sign * limit if sign else kp * (y[0] - z)
                return [y[1], -(a[i - 1] + (a[i] - a[i - 1]) * t / dt) - (r * k * y[0] + f + damper(y[1])) / m]

            def event(t, y):
                return sign * y[1] if sign else limit - abs(kp * (y[0] - z))

            event.terminal, event.direction = True, -1
            s = solve_ivp(motion, (t, dt), [u, v], events=event, **TIGHT)
            u, v = float(s.y[0][-1]), float(s.y[1][-1])
            if sign:
                z = u - sign * limit / kp
                if s.status == 1:
                    v = -sign * 1e-15  # turned back
            t = max(float(s.t[-1]), t + 1e-9)
        out.append(u)
    return out


json.dump([solve(p) for p in json.load(sys.stdin)], sys.stdout)
