/** CODATA 2018: Boltzmann constant over elementary charge, V/K. */
const boltzmannOverCharge = 8.617333262e-5;

export const kelvin = (celsius: number): number => celsius + 273.15;

/** kT in eV, or kT/q in V, at a temperature in degC. */
export const electronVolt = (celsius: number): number => boltzmannOverCharge * kelvin(celsius);
