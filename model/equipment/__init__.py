"""model/equipment"""
